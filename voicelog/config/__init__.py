"""Settings and grammar: hand-written TOML in, the domain's own types out, all faults at once."""
