"""The live screen, readable from three metres."""
