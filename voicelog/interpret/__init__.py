"""From heard words to a reading: what was meant, and how sure that is."""
