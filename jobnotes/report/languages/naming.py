"""Names of things put into another language: head, modifiers, complements, places behind them."""

from jobnotes.report.languages import quoting
from jobnotes.report.languages.counting import counted
from jobnotes.report.languages.grammar import Noun
from jobnotes.report.languages.trade import Trade

DEFINITE = (
    "the", "its", "his", "her", "their", "my", "our", "your", "this", "that", "these", "those",
)  # fmt: skip
INDEFINITE = ("a", "an", "one", "some")
BOTH = ("both", "all", "both of", "all of")


def noun(trade: Trade, text: str) -> Noun | None:
    """Return the name of a thing; none where a word of it has no translation.

    A word with a capital that the trade does not know is taken for a name, and kept.
    """
    return _parsed(trade, tuple(text.split()))


def _parsed(trade: Trade, words: tuple[str, ...]) -> Noun | None:
    while len(words) > 1 and words[0].lower() in (*DEFINITE, *INDEFINITE, *BOTH):
        words = words[1:]
    if not words:
        return None
    many = counted(words[0]) if len(words) > 1 else None
    if many is not None and many > 1:
        return _several(trade, many, words[1:])
    whole = trade.named(" ".join(words).lower())
    return whole or _placed(trade, words) or _coordinated(trade, words) or _headed(trade, words)


def _several(trade: Trade, many: int, words: tuple[str, ...]) -> Noun | None:
    """Name several things with their number; the number alone may tell that they are several."""
    one = _parsed(trade, words)
    if one is None:
        return None
    text = one.text if one.plural else trade.grammar.plural(one.text)
    return Noun(f"{many} {text}", one.gender, plural=True)


def _placed(trade: Trade, words: tuple[str, ...]) -> Noun | None:
    """Part a name from the place behind it: "screw on the left"."""
    for n in range(1, len(words) - 1):
        if words[n].lower() in trade["prepositions"]:
            head, tail = _parsed(trade, words[:n]), place(trade, " ".join(words[n:]))
            return head.with_tail(tail) if head and tail else None
    return None


def _coordinated(trade: Trade, words: tuple[str, ...]) -> Noun | None:
    """Name two things together; "drain and vent screws" shares its head."""
    lower = [word.lower() for word in words]
    if "and" not in lower[1:-1]:
        return None
    at = lower.index("and")
    right = _parsed(trade, words[at + 1 :])
    left = _parsed(trade, words[:at]) or _parsed(trade, (*words[:at], words[-1]))
    if left is None or right is None:
        return None
    both = f"{left.text} {trade['words']['and']} {right.text}"
    return Noun(both, "f" if left.gender == right.gender == "f" else "m", plural=True)


def _headed(trade: Trade, words: tuple[str, ...]) -> Noun | None:
    """Take the longest end of a name that the trade knows as its head."""
    number = counted(words[-1]) if len(words) > 1 else None
    if number is not None or (len(words) > 1 and len(words[-1]) == 1):
        head = _parsed(trade, words[:-1])
        return head.with_tail(f"{number}" if number is not None else words[-1]) if head else None
    for size in range(len(words) - 1, 0, -1):
        head = trade.named(" ".join(words[-size:]).lower())
        if head:
            known = _with_rest(trade, head, " ".join(words[-size:]).lower(), words[:-size])
            if known:
                return known
    return None


def _with_rest(trade: Trade, head: Noun, named: str, rest: tuple[str, ...]) -> Noun | None:
    """Put modifiers behind a head, the nearest first; a thing before it becomes its complement."""
    if not rest:
        return head
    if trade.is_aspect(named):
        whole = _parsed(trade, rest)
        if whole and not _modifier(trade, rest):
            return head.with_tail(trade.grammar.joined("de", trade.grammar.the(whole)))
    for size in range(len(rest), 0, -1):
        chunk, left = rest[-size:], rest[:-size]
        tail = _behind(trade, head, chunk)
        if tail:
            return _with_rest(trade, head.with_tail(tail), "", left)
    return None


def _behind(trade: Trade, head: Noun, chunk: tuple[str, ...]) -> str:
    """Return what stands behind a head for the words before it, nothing for what is unknown."""
    modifier = _modifier(trade, chunk)
    if modifier:
        return trade.grammar.agreed(modifier, head)
    if len(chunk) == 2 and chunk[0].lower() in ("number", "no"):
        number = counted(chunk[1])
        return trade["words"]["number"].format(n=number) if number is not None else ""
    thing = trade.named(" ".join(chunk).lower())
    if thing:
        return trade.grammar.joined("de", thing.text)
    is_name = len(chunk) == 1 and chunk[0][:1].isupper() and chunk[0].isalpha()
    return quoting.name(chunk[0]) if is_name else ""


def _modifier(trade: Trade, chunk: tuple[str, ...]) -> str:
    return trade["modifiers"].get(" ".join(chunk).lower(), "")


def place(trade: Trade, text: str) -> str:
    """Return where or when something is; nothing where a word has no translation."""
    key = text.lower().strip(" ,.")
    if key in trade["places"]:
        return trade["places"][key]
    first, _, rest = text.strip(" ,.").partition(" ")
    preposition = trade["prepositions"].get(first.lower())
    thing = noun(trade, rest) if preposition and rest else None
    if not preposition or not thing:
        return ""
    return trade.grammar.joined(preposition, _with_article(trade, first.lower(), rest, thing))


def _with_article(trade: Trade, preposition: str, text: str, thing: Noun) -> str:
    """Give a noun the article of the English; without one it is an amount, or a known thing."""
    first = text.split()[0].lower()
    if first in INDEFINITE:
        return trade.grammar.one(thing)
    if first in DEFINITE or preposition not in ("with", "of", "without", "for", "from"):
        return trade.grammar.the(thing)
    if preposition != "with":
        return thing.text
    amount = thing.plural or trade.is_amount(text)
    return trade.grammar.some(thing) if amount else trade.grammar.one(thing)
