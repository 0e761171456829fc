"""What is printed and exported: drawings, paper, calendar and tables."""
