"""Whether a number that is being spelled goes on after a comma."""

from collections.abc import Sequence

from jobnotes.numbers.lexicon import table, words
from jobnotes.numbers.spelling import Piece, is_letter, named

GROUP = 4  # words at most between two commas of a number


def may_go_on(tokens: Sequence[str], comma: int, pieces: Sequence[Piece]) -> bool:
    """Tell whether a number goes on after the comma at a token."""
    following = tokens[comma + 1] if comma + 1 < len(tokens) else ""
    incomplete = not any(piece.kind == "figure" for piece in pieces)
    incomplete = incomplete or (bool(pieces) and pieces[-1].kind == "mark")
    goes_on = following in ("then", "dash", "hyphen", "slash", "stroke", "oblique")
    lettered = any(piece.kind == "letter" for piece in pieces)
    figures = not lettered and _more_figures(tokens, comma, pieces)
    lettered = lettered and _one_more(tokens, comma + 1)
    return bool(pieces) and (incomplete or goes_on or lettered or figures)


def _more_figures(tokens: Sequence[str], comma: int, pieces: Sequence[Piece]) -> bool:
    """Tell "nine six four, oh three", figures said one by one in groups of two or more."""
    stop = next((n for n in range(comma + 1, len(tokens)) if tokens[n] in (",", ".")), len(tokens))
    singly = all(piece.kind == "mark" or len(piece.text) == 1 for piece in pieces)
    group = tokens[comma + 1 : stop]
    spoken = 2 <= len(group) <= 6 and set(group) <= set(words("digits"))
    return singly and len(pieces) >= 3 and spoken


def _one_more(tokens: Sequence[str], at: int) -> bool:
    """Tell a group that goes on after a comma: figures, "triple oh", letters by themselves."""
    group = _group_at(tokens, at)
    if not group:
        return False
    if group[0] in named("alphabet") or is_letter(group[0]):
        again = group[0][0] == tokens[at - 2][0]  # only says again how the last letter is spelled
        return not again and _are_letters(group)
    if not _are_figures(group):
        return False
    stop = at + len(group)
    closed = stop >= len(tokens) or _marked(tokens, stop)
    return len(group) > 1 or closed or _goes_on(tokens, at, stop)


def _group_at(tokens: Sequence[str], at: int) -> Sequence[str]:
    """Return the tokens up to the next comma where they are few enough for a group."""
    stop = next((n for n in range(at, len(tokens)) if tokens[n] in (",", ".")), len(tokens))
    return tokens[at:stop] if stop - at <= GROUP else ()


def _are_letters(group: Sequence[str]) -> bool:
    explained = tuple(group[1:3]) == ("as", "in")
    return explained or all(word in named("alphabet") or is_letter(word) for word in group)


def _are_figures(group: Sequence[str]) -> bool:
    """Tell figures said one by one: "nineteen fifty" after a number is what it costs."""
    repeats = table("codes.toml")["repeats"]
    return all(word in words("digits") or word in repeats for word in group)


def _goes_on(tokens: Sequence[str], at: int, stop: int) -> bool:
    """Tell the lone "seven" of "two two, seven, charlie", and one that comes after a group."""
    after = _group_at(tokens, stop + 1)
    grouped = "," in tokens[max(0, at - GROUP) : at - 1]
    return bool(after and _are_letters(after)) or grouped


def _marked(tokens: Sequence[str], at: int) -> bool:
    """Tell a comma after which a dash or a stroke follows."""
    return any(token in named("marks") for token in tokens[at + 1 : at + 2])


def may_belong(tokens: Sequence[str], at: int) -> bool:
    """Tell letters and figures said one by one: "nineteen fifty" after a number is its price."""
    group = _group_at(tokens, at)
    return bool(group) and all(_are_letters([word]) or _are_figures([word]) for word in group)
