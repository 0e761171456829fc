"""What pages and paper show: drawings, sheets, the catalogue in words."""
