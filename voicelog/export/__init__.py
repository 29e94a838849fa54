"""What leaves the program: the published documents, their contract and the files they go into."""
