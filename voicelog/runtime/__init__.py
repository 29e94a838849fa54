"""Where everything meets: ears, reader, dialogue, journal and ledger wired into one session."""
