"""Reviewing at the bench: what can be put right, shown, left open and signed. Pure, no I/O."""
