"""The words of the program: plain frozen data, standard library only, no input or output."""
