"""The mistakes that have a message of their own: each looks at a trouble and says its piece, or nothing."""

from __future__ import annotations

from collections.abc import Callable

from rigdsl.finding import near, similar
from rigdsl.syntax.forms import CLAUSES, FACT, FORMS, JOIN, LINES
from rigdsl.syntax.missing import missing, noun
from rigdsl.syntax.oddities import oddity
from rigdsl.syntax.tokens import Token
from rigdsl.syntax.trouble import Trouble, named, opener
from rigdsl.text import Span
from rigdsl_grammar.table import WORDS

__all__ = ["CASES", "RULES", "Said"]

# Where, what is wrong, and how to mend it.
Said = tuple[Span, str, str]

LABELLED = {"zone", "box", "source", "output", "supply", "cable", "protocol", "model"}
TEXT_OF = {kind: word for word, kind in WORDS.items()}
NAMES = "a name is a letter, then letters, digits, `_` and single hyphens"


def odd_character(trouble: Trouble, here: Token) -> Said | None:
    """A character that means nothing in the language, or a quote that is not closed."""
    if here.kind not in ("UNKNOWN", "OPEN_QUOTE"):
        return None
    start, end, message, help = oddity(here)
    return Span(trouble.source, start, end), message, help or trouble.help


def first_word(trouble: Trouble, here: Token) -> Said | None:
    """A line that begins with nothing that opens a statement."""
    if trouble.at:
        return None
    place = trouble.span(here)
    if here.kind == "_CLOSE":
        return place, "this `}` closes nothing", "take it away, or look for the `{` that is missing before it"
    if here.kind == "_OPEN":
        return place, "this `{` stands on no statement", "a `{` stands at the end of the line that it opens"
    if here.text in LINES:
        help = f"it stands inside the block of a model: `{LINES[here.text].example}`"
        return place, f"{named(here)} opens no statement", help
    if here.text in CLAUSES:
        help = "nothing runs over a line end: put it at the end of the line that it belongs to"
        return place, f"a line cannot begin with {named(here)}", help
    if here.text[0].isalpha():
        meant = FORMS.get(opener(trouble.tokens))
        shape = f"{meant.what} reads: `{meant.example}`" if meant else trouble.help
        return place, f"{named(here)} opens no statement", similar("statement", here.text, FORMS) or shape
    return place, f"a line cannot begin with {named(here)}", trouble.help


def group_word(trouble: Trouble, here: Token) -> Said | None:
    """`input mic 1-8 {` in a model: a misspelt word that was to open a group or a pass."""
    line = trouble.line
    if trouble.word != "model" or not line or line[0].kind != "WORD" or trouble.form is not FACT:
        return None
    if here.kind not in ("_OPEN", "_ARROW", "_JOIN"):
        return None
    help = similar("word", line[0].text, LINES)
    if not help and here.kind == "_OPEN":
        help = f"a line with a block declares sockets: `{LINES['inputs'].example}`"
    message = f"{named(line[0])} opens no group and no pass"
    return trouble.span(line[0]), message, help or f"a pass reads: `{LINES['pass'].example}`"


def arrow(trouble: Trouble, here: Token) -> Said | None:
    """`->` for `--`, the reverse, or half of one."""
    wanted = "->" if "_ARROW" in trouble.accepted else "--" if "_JOIN" in trouble.accepted else ""
    if not wanted or here.kind not in ("_JOIN", "_ARROW", "_MINUS"):
        return None
    message = f"{trouble.what} is written with `{wanted}`, not with {named(here)}"
    other = {
        "link": "; what feeds which channel is a `patch`, with `->`",
        "patch": "; a cable is a `link`, with `--`",
    }.get(trouble.word, "")
    return trouble.span(here), message, trouble.help + other


def hyphens(trouble: Trouble, here: Token) -> Said | None:
    """`oh--l` and `oh-` as names; a minus before a number."""
    before = trouble.before
    if here.kind not in ("_JOIN", "_MINUS", "_ARROW"):
        return None
    following = trouble.rest[1] if len(trouble.rest) > 1 else None
    if before is not None and before.end == here.start and before.kind != "NUMBER" and before.text[0].isalpha():
        last = following if following is not None and following.start == here.end else here
        whole = trouble.source.text[before.start : last.end]
        return trouble.span(before, last), f"`{whole[:40]}` is no name: a hyphen stands singly, between letters", NAMES
    return None


def below_zero(trouble: Trouble, here: Token) -> Said | None:
    """A minus before a number."""
    rest = trouble.rest
    if here.kind != "_MINUS" or len(rest) < 2 or rest[1].kind != "NUMBER":
        return None
    place = trouble.span(here, rest[2] if len(rest) > 2 and rest[2].kind in ("WORD", "RATIO") else rest[1])
    help = "a minus stands only before a coordinate, as in `at (0, -28) m`"
    return place, f"`{place.text[:40]}` is below zero, which nothing here can be", help


def position(trouble: Trouble, here: Token) -> Said | None:
    """What can go wrong between the brackets of a position, and with the brackets themselves."""
    kinds = [token.kind for token in trouble.line]
    help = "a position reads: `at (0, 4) m` or `at (0, 4, 0.4) m`"
    if trouble.accepted == {"_LEFT"}:
        return trouble.span(here), "a position stands in brackets", help
    if "_LEFT" not in kinds or "_RIGHT" in kinds:
        return None
    if here.kind == "_RIGHT":
        return trouble.span(here), "a position has two coordinates, or three", help
    if "_COMMA" in trouble.accepted and here.kind in ("NUMBER", "_MINUS"):
        return trouble.behind(), "a comma is missing between the coordinates", help
    return trouble.span(here), f"{named(here)} is no coordinate", help


def comma(trouble: Trouble, here: Token) -> Said | None:
    """`1,5 m`: a decimal comma."""
    before = trouble.before
    following = trouble.rest[1] if len(trouble.rest) > 1 else None
    if not trouble.takes_unit or before is None or here.kind != "_COMMA":
        return None
    if following is None or following.kind != "NUMBER" or not before.end == here.start == following.start - 1:
        return None
    last = trouble.rest[2] if len(trouble.rest) > 2 and trouble.rest[2].kind in ("WORD", "RATIO") else following
    place = trouble.span(before, last)
    help = f"write `{place.text.replace(',', '.')[:40]}`"
    return place, f"`{place.text[:40]}` has a comma, and a point stands before the decimals", help


def unit(trouble: Trouble, here: Token | None) -> Said | None:
    """A number that needs a unit and has none."""
    before = trouble.before
    if not trouble.takes_unit or before is None:
        return None
    what, *units = ("a supply's figure", "V", "A") if trouble.word == "supply" else ("a length", "m", "ft")
    forms = " or ".join(f"`{before.text[:20]} {unit}`" for unit in units)
    help = f"{what} has a unit: {forms}; {trouble.help}"
    return trouble.span(before), f"{named(before)} has no unit", help


def broken_over(trouble: Trouble) -> Said | None:
    """A position that goes on on the next line."""
    kinds = [token.kind for token in trouble.line]
    if trouble.at >= len(trouble.tokens) - 1 or "_LEFT" not in kinds or "_RIGHT" in kinds:
        return None
    help = f"nothing runs over a line end outside `{{ }}`: put it on one line; {trouble.help}"
    return trouble.behind(), "the position is broken over a line end", help


def name_with_digit(trouble: Trouble, here: Token) -> Said | None:
    """A name that begins with a digit, or a number in the place of a name."""
    if not trouble.takes_name or here.kind not in ("NUMBER", "ADDRESS", "DATE"):
        return None
    run = [here]
    for token in trouble.rest[1:]:
        if token.start != run[-1].end or not (token.text[0].isalnum() or token.kind == "_MINUS"):
            break
        run.append(token)
    place = trouble.span(here, run[-1])
    what = _left_out(trouble) if all(token.kind in ("NUMBER", "_MINUS") for token in run) else ""
    if what:
        return place, f"{what} is missing before `{place.text[:40]}`", trouble.help
    return place, f"`{place.text[:40]}` is no name: it begins with a digit", NAMES


def _left_out(trouble: Trouble) -> str:
    """What should stand before a number that stands in its place, if that is plain."""
    before = trouble.before
    if trouble.in_block and len(trouble.line) == 1 and trouble.form is not FACT:
        return noun(trouble)[0]
    if before is None or before.kind not in ("_TO", "_FROM", "_JOIN", "_ARROW", "_ON"):
        return ""
    return "the zone" if trouble.word == "way" else "the box"


def name_with_slash(trouble: Trouble, here: Token) -> Said | None:
    """`AC/DC` where a name should be."""
    if here.kind != "RATIO" or not (trouble.takes_name or trouble.accepted >= {"WORD", "STRING"}):
        return None
    return trouble.span(here), f"{named(here)} is no name: there is a `/` in it", NAMES


def label_for_name(trouble: Trouble, here: Token) -> Said | None:
    """A label in the place of a name."""
    if not trouble.takes_name or here.kind != "STRING":
        return None
    if len(trouble.line) == 1 and not trouble.in_block:
        return trouble.behind(), f"{noun(trouble)[0]} is missing before {named(here)}", trouble.help
    help = f"things are called by their names, not by their labels; {trouble.help}"
    return trouble.span(here), f"{named(here)} is a label, and here stands a name", help


def date(trouble: Trouble, here: Token) -> Said | None:
    """Anything but a date behind `until`, or one that begins as a number in the head: `6.2.2027`, `28/11/2026`."""
    in_head = trouble.in_block and trouble.word == "rig" and [token.text for token in trouble.line[:1]] == ["date"]
    begun = trouble.line[1:] if in_head else []
    if not begun and (trouble.accepted != {"DATE"} or here.kind in ("UNKNOWN", "OPEN_QUOTE")):
        return None
    first, *others = [*begun, *trouble.rest]
    last = first
    for token in others:
        if token.start != last.end:
            break
        last = token
    text = trouble.source.text[first.start : last.end][:40]
    return trouble.span(first, last), f"`{text}` is no date", "a date is year, month and day: `2026-12-31`"


def quotes(trouble: Trouble, here: Token) -> Said | None:
    """Words that should stand in quotes: a path, a title, a reason."""
    if "STRING" not in trouble.accepted or trouble.takes_name or "WORD" in trouble.accepted:
        return None
    if here.kind not in ("WORD", "RATIO", "NUMBER", "_DOT") and here.kind not in TEXT_OF:
        return None
    if not (trouble.accepted == {"STRING"} or here.kind == "WORD"):
        return None
    run = _words(trouble, trouble.rest)
    if trouble.word == "box" and "is" not in [token.text for token in trouble.rest]:
        return None
    text = trouble.source.text[here.start : run[-1].end][:60]
    if trouble.accepted == {"STRING"}:
        return trouble.span(here, run[-1]), f"`{text}` should stand in quotes", f'write `"{text}"`; {trouble.help}'
    before = trouble.before
    name = f"{before.text}-{text.replace(' ', '-')}" if before is not None else text
    help = f'put a label in quotes, `"{text}"`; a name is one word, `{name[:60]}`'
    return trouble.span(here, run[-1]), f"`{text}` is no label, for it has no quotes", help


def type_words(trouble: Trouble, here: Token) -> Said | None:
    """A second word in the place of a type: a label without quotes, or a name of two words."""
    line = trouble.line
    if trouble.word not in ("source", "output") or trouble.in_block or here.kind != "WORD" or len(line) < 3:
        return None
    if line[-1].kind != "WORD" or line[-2].text in CLAUSES or {"_IN", "_OPEN"} - trouble.accepted:
        return None
    text = f"{line[-1].text} {here.text}"
    help = f"one word says the type; a label before it stands in quotes; {trouble.help}"
    return trouble.span(line[-1], here), f"`{text[:60]}` is no type", help


def label_late(trouble: Trouble, here: Token) -> Said | None:
    """A label that does not stand right behind the name."""
    if here.kind != "STRING" or trouble.in_block:
        return None
    if any(token.kind == "STRING" for token in trouble.line) and trouble.word in LABELLED:
        return trouble.span(here), f"{trouble.what} has one label, and {named(here)} is a second", trouble.help
    if trouble.word in LABELLED:
        return trouble.span(here), "the label stands right behind the name", trouble.help
    return trouble.span(here), f"{trouble.what} has no label in this place", trouble.help


def colon(trouble: Trouble, here: Token) -> Said | None:
    """The habit of writing `name: value`."""
    if here.kind != "_COLON":
        return None
    return trouble.span(here), "only the name of a link has a `:` behind it", trouble.help


def near_word(trouble: Trouble, here: Token) -> Said | None:
    """A misspelt word that was to open a clause."""
    if here.kind != "WORD" or trouble.in_block:
        return None
    words = [TEXT_OF[kind] for kind in trouble.accepted if kind in TEXT_OF]
    if "WORD" in trouble.accepted or not near(here.text, words):
        return None
    return trouble.span(here), f"{named(here)} opens no clause", similar("word", here.text, words)


def order(trouble: Trouble, here: Token) -> Said | None:
    """A clause twice, before its turn, or of another statement."""
    if here.text not in CLAUSES or here.kind == "STRING" or trouble.in_block:
        return None
    if here.text not in trouble.form.clauses:
        if {trouble.word, here.text} in ({"source", "from"}, {"output", "to"}):
            message = f"a source goes `to` a socket, an output comes `from` one: {named(here)} is the wrong way round"
            return trouble.span(here), message, trouble.help
        return trouble.span(here), f"{named(here)} is no part of {trouble.what}", trouble.help
    place = trouble.form.clauses.index
    for token in trouble.rest[1:]:
        early = token.kind in trouble.accepted and token.text in trouble.form.clauses
        if early and place(token.text) < place(here.text):
            return trouble.span(here), f"{named(here)} comes behind {named(token)}, not before it", trouble.help
    seen = [token.text for token in trouble.line[2:] if token.kind == WORDS.get(token.text)]
    if here.text in seen:
        return trouble.span(here), f"{named(here)} stands twice in one statement", trouble.help
    later = [word for word in seen if word in trouble.form.clauses and place(word) > place(here.text)]
    if not later:
        return None
    first = min(later, key=place)
    return trouble.span(here), f"{named(here)} comes before `{first}`, not behind it", trouble.help


def model(trouble: Trouble, here: Token) -> Said | None:
    """`box SL is in wing`: the zone's `in` was taken for the model."""
    words = [token.text for token in trouble.line[-2:]]
    if trouble.word != "box" or trouble.in_block or words != ["is", "in"] or here.kind != "WORD":
        return None
    place = Span(trouble.source, trouble.line[-2].end, trouble.line[-2].end)
    return place, "the model is missing behind `is`", trouble.help


def name_and_colon(trouble: Trouble, here: Token) -> Said | None:
    """`link C01 A -- B`: no `:` behind the name of a link."""
    if "_COLON" not in trouble.accepted or here.kind in ("_COMMA", "_OPEN"):
        return None
    return trouble.behind(), f"the `:` is missing behind the name {named(trouble.line[-1])}", trouble.help


def block(trouble: Trouble, here: Token) -> Said | None:
    """A block on what has none."""
    if here.kind != "_OPEN":
        return None
    if trouble.in_block and trouble.form is FACT:
        return trouble.span(here), "a fact has no block of its own", trouble.help
    if "$END" in trouble.accepted:
        return trouble.span(here), f"{trouble.what} has no block", trouble.help
    return None


def gap(trouble: Trouble, here: Token | None) -> Said | None:
    """Something that is not there: the line ends, or goes on with what comes later."""
    if "$END" in trouble.accepted or "_SEP" in trouble.accepted:
        return None
    help = trouble.help
    if trouble.word == "link" and trouble.accepted == {"_OPEN"}:
        help = f"{help}; one cable with several joins: `link X1 via multi32 40 m {{ {JOIN.example} }}`"
    return trouble.behind(), missing(trouble), help


def _words(trouble: Trouble, rest: list[Token]) -> list[Token]:
    """The words that run on from here, up to what belongs to the statement again."""
    run = rest[:1]
    for token in rest[1:]:
        glued = token.start == run[-1].end and token.kind not in ("_OPEN", "_CLOSE", "_COMMA", "_SEP")
        if not glued and (token.text in trouble.form.clauses or not token.text[0].isalnum()):
            break
        run.append(token)
    return run


CASES: tuple[Callable[[Trouble, Token], Said | None], ...] = (
    date,
    odd_character,
    first_word,
    group_word,
    position,
    comma,
    unit,
    arrow,
    hyphens,
    below_zero,
    name_with_digit,
    name_with_slash,
    label_for_name,
    model,
    name_and_colon,
    near_word,
    quotes,
    type_words,
    label_late,
    colon,
    order,
    block,
    gap,
)
# Whose mistake is in a quantity: what is wrong there has the name that it has in a fact.
RULES: dict[Callable[[Trouble, Token], Said | None], str] = {
    comma: "wrong-number",
    unit: "wrong-unit",
    below_zero: "wrong-number",
}
