"""What ``tests/bench/hearing.py`` is made of: the speech set, the ears, and how they are scored."""
