"""Part numbers spelled aloud or written: letters, figures, dashes, "double four", "b as in boy"."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from jobnotes.numbers.lexicon import table, word_set, words
from jobnotes.numbers.part_groups import may_go_on
from jobnotes.numbers.phrases import Phrases
from jobnotes.numbers.spelling import Piece, is_code_like, is_letter, named, starters
from jobnotes.numbers.spoken import number_at

_CODE = re.compile(r"(?:[a-z]+[0-9]|[0-9]+[a-z]+[0-9])[a-z0-9]*$")
_FIGURES = re.compile(r"[0-9]+$")
_CONSONANTS = re.compile(r"[b-df-hj-np-tv-z]{2,4}$")
_LETTERS = re.compile(r"[a-z]{2,4}$")
# oil grades, threads, engine layouts, fuel grades, and a figure with a one-letter unit
_OTHER_CODES = re.compile(r"\d{0,2}W-?\d{2}|M\d{1,2}|V\d{1,2}|E\d{1,2}|SAE-?\d+|\d+[KAVWCFHMGLXR]")
_LONGEST = 24


@dataclass(frozen=True, slots=True)
class PartNumber:
    """Tokens start to stop (stop excluded) spell `text`, such as "QX-447-B".

    `options` holds both spellings where "oh" can be the letter or the nought; `tail` marks a last
    group said alone ("dash oh three"); `plain` one of figures only, which needs a cue before it.
    """

    start: int
    stop: int
    text: str
    options: tuple[str, ...] = ()
    tail: bool = False
    plain: bool = False


def part_number_at(tokens: Sequence[str], at: int) -> PartNumber | None:
    """Return the part number that begins exactly at token `at`, or None.

    A number needs a letter and a figure, or a spoken dash between figures; one of figures only
    comes back as `plain`, and counts only where the words before it name it as a part number.
    """
    pieces = _pieces(tokens, at)
    while pieces and (pieces[-1].kind == "mark" or _is_measured(tokens, pieces[-1].stop, pieces)):
        pieces.pop()
    if not pieces or not _is_code(tokens, at, pieces):
        return None
    text = "".join(piece.text for piece in pieces)
    spoken_dash = any(tokens[p.stop - 1] in ("dash", "hyphen") for p in pieces)
    return PartNumber(
        at,
        _confirmed(tokens, pieces),
        text,
        _spellings(pieces),
        tail=pieces[0].kind == "mark",
        plain=text.replace("-", "").isdigit() and not spoken_dash,
    )


def may_start(tokens: Sequence[str], at: int) -> bool:
    """Tell quickly whether a part number could begin at this token."""
    token = tokens[at]
    if token in starters() or token[0].isdigit() or token[-1].isdigit():
        return True
    if len(token) == 1:
        return token.isalpha()
    if len(token) > 4:
        return False
    return tokens[at + 1 : at + 2] in (("-",), ["-"]) or bool(_CONSONANTS.match(token))


@cache
def _phrases(name: str) -> Phrases:
    return Phrases(table("codes.toml")["words"][name])


# --- the pieces of a number ---


def _pieces(tokens: Sequence[str], at: int) -> list[Piece]:
    pieces: list[Piece] = []
    stop = at
    while len(pieces) < _LONGEST:
        begin = _skip(tokens, stop, pieces)
        piece = _piece(tokens, begin, pieces)
        if piece is None:
            break
        pieces.append(_explained(tokens, piece))
        stop = pieces[-1].stop
        stop = _initials(tokens, stop, pieces)
        pieces[-1] = Piece(
            piece.text, piece.kind, stop, pieces[-1].spelled or stop > piece.stop, piece.doubtful
        )
    return pieces


def _skip(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> int:
    """Pass over "then", "letters", and a comma where the number cannot be complete yet."""
    begin = at
    fillers = word_set("codes.toml", "words", "fillers")
    while begin < len(tokens) and tokens[begin] in fillers | {",", "a"}:
        if tokens[begin] == "," and not may_go_on(tokens, begin, pieces):
            return at
        if tokens[begin] == "a" and tokens[begin + 1 : begin + 2] not in (["dash"], ("dash",)):
            return begin if pieces and pieces[-1].kind == "mark" else at
        if tokens[begin] == "by" and tokens[begin - 1 : begin] not in (["followed"], ("followed",)):
            return at
        if tokens[begin] == "and" and not (begin > at and tokens[begin - 1] == ","):
            return at
        begin += 1
    return begin if not pieces or begin == at or begin - at <= 4 else at


def _piece(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> Piece | None:
    if at >= len(tokens):
        return None
    token = tokens[at]
    if token in named("marks"):
        return _mark(tokens, at, pieces)
    if token in words("digits") or token in words("teens") or token in words("tens"):
        return _spoken_figures(tokens, at, pieces)
    if token in table("codes.toml")["repeats"]:
        return _repeat(tokens, at)
    if _FIGURES.match(token):
        return Piece(token, "figure", at + 1)
    if _CODE.match(token):
        return Piece(token.upper(), "figure", at + 1, spelled=True)
    return _letter(tokens, at, pieces)


def _mark(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> Piece | None:
    token = tokens[at]
    if (not pieces and token not in ("dash", "hyphen")) or (pieces and pieces[-1].kind == "mark"):
        return None
    if token in ("stroke", "oblique") and not any(piece.kind == "letter" for piece in pieces):
        return None
    return Piece(named("marks")[token], "mark", at + 1)


def _spoken_figures(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> Piece | None:
    token = tokens[at]
    if token in ("oh", "o"):
        return _oh(tokens, at, pieces)
    value = words("digits").get(token, words("teens").get(token))
    stop = at + 1
    if value is None:
        ones = _ones(tokens[stop]) if stop < len(tokens) else 0
        value, stop = words("tens")[token] + ones, stop + (ones > 0)
    if stop < len(tokens) and tokens[stop] in ("hundred", "thousand"):
        number = number_at(tokens, at)
        if number is not None and number.value % 1 == 0:
            return Piece(str(int(number.value)), "figure", number.stop)
    return Piece(str(value), "figure", stop)


def _ones(token: str) -> int:
    """Return the figure of "eight", and of "two a sixty-eights"."""
    several = token.removesuffix("es") if token == "sixes" else token.removesuffix("s")
    return int(words("digits").get(token, words("digits").get(several, 0)))


def _oh(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> Piece | None:
    """Tell the letter O (between letters) from the nought; after a letter alone it stays open."""
    if not pieces and _piece_after_oh(tokens, at) is None:
        return None
    after_letter = bool(pieces) and pieces[-1].kind == "letter"
    following = _piece_after_oh(tokens, at)
    if not pieces and following is not None and following.kind == "letter":
        return Piece("O", "letter", at + 1, spelled=True)
    if after_letter and following is not None and following.kind == "letter":
        return Piece("O", "letter", at + 1, spelled=True)
    return Piece("0", "figure", at + 1, doubtful=after_letter)


def _piece_after_oh(tokens: Sequence[str], at: int) -> Piece | None:
    if at + 1 >= len(tokens) or tokens[at + 1] in ("oh", "o"):
        return None if at + 1 >= len(tokens) else Piece("0", "figure", at + 2)
    return _piece(tokens, at + 1, (Piece("0", "figure", at + 1),))


def _repeat(tokens: Sequence[str], at: int) -> Piece | None:
    if at + 1 >= len(tokens):
        return None
    times, token = int(table("codes.toml")["repeats"][tokens[at]]), tokens[at + 1]
    if token in words("digits"):
        return Piece(str(words("digits")[token]) * times, "figure", at + 2, spelled=True)
    if _FIGURES.match(token) and len(token) == 1:
        return Piece(token * times, "figure", at + 2, spelled=True)
    letter = named("alphabet").get(token) or (token.upper() if is_letter(token) else "")
    return Piece(letter * times, "letter", at + 2, spelled=True) if letter else None


def _letter(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> Piece | None:
    token = tokens[at]
    if token in named("alphabet"):
        return Piece(named("alphabet")[token], "letter", at + 1, spelled=True)
    if token == "x" and at + 1 < len(tokens) and tokens[at + 1] == "ray":
        return Piece("X", "letter", at + 2, spelled=True)
    if is_letter(token):
        return _single_letter(tokens, at, pieces)
    return _letter_group(tokens, at)


def _single_letter(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> Piece | None:
    following = tokens[at + 1] if at + 1 < len(tokens) else ""
    if following in word_set("codes.toml", "words", "things_by_letter"):
        return None
    before = tokens[at - 1] if at else ""
    articles = word_set("codes.toml", "words", "article_after")
    if tokens[at] == "a" and not pieces and before in articles:
        return None
    if tokens[at] in ("a", "i") and not (pieces or is_letter(following) or following in "-/dash"):
        return None
    if tokens[at] in ("a", "i") and pieces and following.isalpha() and not is_code_like(following):
        return None
    return Piece(tokens[at].upper(), "letter", at + 1)


def _letter_group(tokens: Sequence[str], at: int) -> Piece | None:
    """Read capitals that came as one word: before a dash, or consonants before figures."""
    token = tokens[at]
    following = tokens[at + 1] if at + 1 < len(tokens) else ""
    if token in word_set("codes.toml", "words", "not_letters") or not _LETTERS.match(token):
        return None
    dashed = following == "-" and at + 2 < len(tokens) and tokens[at + 2][0].isdigit()
    closing = at > 0 and tokens[at - 1] == "-" and _CONSONANTS.match(token)
    if dashed or closing or (_CONSONANTS.match(token) and _leads_figures(following)):
        return Piece(token.upper(), "letter", at + 1, spelled=True)
    return None


def _leads_figures(token: str) -> bool:
    return bool(_FIGURES.match(token)) or token == "dash"


# --- "b as in boy" ---


def _explained(tokens: Sequence[str], piece: Piece) -> Piece:
    """Pass over "as in boy" right after a letter."""
    if piece.kind != "letter":
        return piece
    word = _phrases("as_in").end(tokens, piece.stop)
    if word == piece.stop or word >= len(tokens) or tokens[word][0] != piece.text[0].lower():
        return piece
    return Piece(piece.text, piece.kind, word + 1, spelled=True)


def _initials(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> int:
    """Pass over ", as in sierra papa" whose words begin with the letters just spelled."""
    comma = at + 1 if at < len(tokens) and tokens[at] == "," else at
    if comma < len(tokens) and tokens[comma] in ("that", "that's"):
        return at
    word = _phrases("as_in").end(tokens, comma)
    letters = "".join(p.text for p in pieces if p.kind == "letter").lower()
    if word == comma or not letters:
        return at
    for count in range(len(letters), 0, -1):
        said = tokens[word : word + count]
        if len(said) == count and [t[0] for t in said] == list(letters[-count:]):
            return word + count
    return at


def _confirmed(tokens: Sequence[str], pieces: Sequence[Piece]) -> int:
    """Return where the number stops, with ", that's l as in lima" or ", l as in lima" taken in."""
    stop = pieces[-1].stop
    comma = stop + 1 if stop < len(tokens) and tokens[stop] == "," else stop
    letter = _phrases("confirms").end(tokens, comma)
    if letter >= len(tokens) or tokens[letter] != pieces[-1].text[-1:].lower():
        return stop
    word = _phrases("as_in").end(tokens, letter + 1)
    return word + 1 if letter + 1 < word < len(tokens) else stop


# --- is it a part number at all ---


def _is_code(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> bool:
    text = "".join(piece.text for piece in pieces)
    figures = sum(c.isdigit() for c in text)
    letters = sum(c.isalpha() for c in text)
    if not figures or _is_terminal(tokens, at) or _is_oil_or_thread(text):
        return False
    if pieces[0].kind == "mark":
        return len(text) > 1
    if letters:
        return len(text) >= 3 and not (tokens[at] == "delta" and len(pieces) == 2)
    return figures >= 3 and (len(pieces) > 1 or len(text) >= 4)


def _is_terminal(tokens: Sequence[str], at: int) -> bool:
    """Tell "a to b thirty one" (between two terminals) from a part number."""
    return at >= 2 and tokens[at - 1] == "to" and is_letter(tokens[at - 2])


def _is_oil_or_thread(text: str) -> bool:
    return bool(
        re.fullmatch(
            r"\d{0,2}W-?\d{2}|\d?M\d{1,2}|[VET]\d{1,2}|SAE-?\d+|\d+[KAVWCFHMGLXR]|\d{1,4}[AP]M",
            text,
        )
    )


def _is_measured(tokens: Sequence[str], at: int, pieces: Sequence[Piece]) -> bool:
    """Tell whether the last figures belong to a unit or a decimal that follows them."""
    return (
        pieces[-1].kind == "figure"
        and at < len(tokens)
        and tokens[at] in _measure_words()
        and pieces[-1].stop == at
    )


@cache
def _measure_words() -> frozenset[str]:
    names = [unit[form] for unit in table("units.toml")["unit"] for form in ("one", "many")]
    first = {name.split()[0] for group in names for name in group}
    return frozenset(first - {"of", "c", "k", "r", "p", "g", "m", "in"}) | {
        "point",
        "dollars",
        "bucks",
    }


def _spellings(pieces: Sequence[Piece]) -> tuple[str, ...]:
    if not any(piece.doubtful for piece in pieces):
        return ()
    texts = [[p.text, "O"] if p.doubtful else [p.text] for p in pieces]
    as_figure = "".join(t[0] for t in texts)
    as_letter = "".join(t[-1] for t in texts)
    return as_figure, as_letter
