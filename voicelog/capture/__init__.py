"""Sound from files and streams, cut into utterances."""
