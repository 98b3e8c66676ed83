"""Whole numbers in English words, as far as names and intervals have them."""

SMALL = [
    "zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
]  # fmt: skip
TENS = ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]


def counted(text: str) -> int | None:
    """Return a number below a hundred ("12", "twelve", "twenty-five"), none for anything else."""
    words = text.lower().replace("-", " ").split()
    if len(words) == 1:
        return _one(words[0])
    if len(words) == 2 and words[0] in TENS and words[1] in SMALL[1:10]:
        return 10 * TENS.index(words[0]) + SMALL.index(words[1])
    return None


def _one(word: str) -> int | None:
    if word.isascii() and word.isdigit():
        return int(word)
    if word in SMALL:
        return SMALL.index(word)
    return 10 * TENS.index(word) if word in TENS else None
