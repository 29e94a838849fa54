"""The journal: append-only lines and clips on disk, their recovery and their check."""
