"""Plans: the question put, made, kept, carried on, settled by hand, told apart."""
