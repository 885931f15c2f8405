"""What is wrong with a formula before and while it is split into terms, said in a drafter's words."""

import re
from keyword import iskeyword

from builder.words.limits import FORMULA

NOTATION = "numbers, symbols and + - * / ** ( ) between them"

_ALLOWED = re.compile(r"[A-Za-z0-9_.+\-*/()<>=!, ]")
_INSTEAD = {
    "^": "**",
    "\u00d7": "*",  # multiplication sign
    "\u00b7": "*",  # middle dot
    "\u00f7": "/",  # division sign
    "\u2212": "-",  # minus sign
    "\u2013": "-",  # en dash
    "\u2264": "<=",
    "\u2265": ">=",
    "\u2260": "!=",
    "\u00b2": "**2",
}
_BEFORE = r"(?<![A-Za-z0-9_.])"
_EXPONENT_RUN_ON = re.compile(_BEFORE + r"(?:\d+\.?\d*|\.\d+)[eE][+-]?\d+[A-Za-z_]\w*")
_RUN_ON = re.compile(_BEFORE + r"(\d+\.?\d*|\.\d+)(?![eE][+-]?\d)([A-Za-z_]\w*)")
_MIXED = re.compile(_BEFORE + r"(\d+)-(\d+/\d+)(?![\w.])")
_BREAKS_OFF = re.compile(r"(?:[+\-*/<>=!,]|\b(?:and|or|not|if|else))$")
_SINGLE_EQUALS = re.compile(r"(?<![<>=!])=(?!=)")

_COMPLAINTS = {  # of Python's parser, in our words
    "never closed": ("bracket is never closed", "expected a ) for every ("),
    "unmatched": ("bracket was never opened", "expected a ( for every )"),
    "too many nested": ("formula is nested too deeply", "expected a simpler formula"),
    "'else'": ("if without else", "expected `x if condition else y`"),
}


class FormulaFault(Exception):
    """A formula that cannot be read, or that has no value here; `column` counts from 0 in its text."""

    def __init__(self, wrong: str, expected: str, column: int) -> None:
        super().__init__(wrong, expected, column)
        self.wrong, self.expected, self.column = wrong, expected, column


def check_text(text: str) -> None:
    """Raise FormulaFault for what can be seen in the text alone."""
    if not text:
        raise FormulaFault("formula is empty", f"expected {NOTATION}", 0)
    if len(text) > FORMULA:
        raise FormulaFault(f"formula is {len(text)} characters long", f"expected at most {FORMULA}", 0)
    for column, character in enumerate(text):
        if not _ALLOWED.match(character):
            expected = f"expected {_INSTEAD.get(character, NOTATION)}"
            raise FormulaFault(f"{character!r} does not belong in a formula", expected, column)
    if found := _EXPONENT_RUN_ON.search(text):
        raise FormulaFault(f"{found[0]} is neither number nor symbol", "expected a sign between them", found.start())
    if found := _RUN_ON.search(text):
        number, name = found.groups()
        expected = f"expected {number} {name}" if iskeyword(name) else f"expected {number}*{name}"
        raise FormulaFault(f"{found[0]} is neither number nor symbol", expected, found.start())
    if found := _MIXED.search(text):
        whole, part = found.groups()
        expected = f"expected {whole} + {part} for one length, {whole} - {part} with blanks for a difference"
        raise FormulaFault(f"{found[0]} can be read in two ways", expected, found.start())


def syntax_fault(text: str, error: SyntaxError) -> FormulaFault:
    """Turn a parser's complaint into one that points at the place and speaks plainly."""
    column = min(max((error.offset or 1) - 1, 0), len(text))
    for complaint, (wrong, expected) in _COMPLAINTS.items():
        if complaint in error.msg:
            return FormulaFault(wrong, expected, column)
    if equals := _SINGLE_EQUALS.search(text):
        return FormulaFault("single = in a formula", "expected ==, <= or >= to compare", equals.start())
    if _BREAKS_OFF.search(text):
        return FormulaFault("formula breaks off", "expected a number or symbol at its end", len(text))
    here = text[column:].split(" ", maxsplit=1)[0][:20] or text[-20:]
    return FormulaFault(f"formula cannot be read at {here}", f"expected {NOTATION}", column)
