"""x"""
def by_letters(word: str) -> str:
    return ""
