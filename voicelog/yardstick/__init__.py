"""One yardstick for every ear: whole entries, every slot, words, and how sure a share is. Pure."""
