"""The command line: thin commands over the runtime."""
