"""Whole numbers in English words, as far as names and intervals have them."""

SMALL = {
    word: n
    for n, word in enumerate(
        (
            "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
            "fifteen sixteen seventeen eighteen nineteen"
        ).split()
    )
}
TENS = {
    word: 10 * n
    for n, word in enumerate(
        "twenty thirty forty fifty sixty seventy eighty ninety".split(), start=2
    )
}


def counted(text: str) -> int | None:
    """Return a number below a hundred ("12", "twelve", "twenty-five"), none for anything else."""
    words = text.lower().replace("-", " ").split()
    if len(words) == 1:
        word = words[0]
        if word.isascii() and word.isdigit():
            return int(word)
        return SMALL.get(word, TENS.get(word))
    if len(words) == 2 and words[0] in TENS and 0 < SMALL.get(words[1], 0) < 10:
        return TENS[words[0]] + SMALL[words[1]]
    return None
