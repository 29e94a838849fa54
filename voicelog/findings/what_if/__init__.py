"""Why a grade is as it is, and what would change a grade or the verdict."""
