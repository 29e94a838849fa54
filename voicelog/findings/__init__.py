"""Facts folded into an inspection: findings with history, grades, coverage, verdict."""
