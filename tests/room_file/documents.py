"""Random TOML documents in every style of writing, for checks that must hold for all of them."""

from __future__ import annotations

import json

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

BARE = st.text("abcdefgXYZ019_-", min_size=1, max_size=4)
QUOTED = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=4)
KEYS = st.one_of(BARE, BARE, BARE, QUOTED)
TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=6)
BLANKS = st.sampled_from(["", " ", "  ", "\t"])
LINES = st.sampled_from(["", "", "\n", "# a = 1\n", " # [x]\n\n", '# "\n'])


def quoted_key(draw: DrawFn, key: str) -> str:
    """A key as it may be written: bare where it can be, else in one of the two kinds of quotes."""
    bare = key.isascii() and key.replace("-", "a").replace("_", "a").isalnum()
    styles = ["double"] + (["bare"] * 3 if bare else []) + (["single"] if "'" not in key and "\x7f" not in key else [])
    style = draw(st.sampled_from(styles))
    if style == "bare":
        return key
    return f"'{key}'" if style == "single" else json.dumps(key).replace("\x7f", "\\u007f")


@st.composite
def scalars(draw: DrawFn) -> str:
    """A plain value as it may be written."""
    text = draw(TEXTS)
    styles = [
        json.dumps(text).replace("\x7f", "\\u007f"),
        '"""a\n"b" # c ""\\"""d\\\\"""',
        "'''x = 1\n[y]''z'''",
        '""""a""""',
        '""',
        "''",
        "'\"#='",
        "17",
        "-0.5e3",
        "inf",
        "true",
        "0xFF",
        "1979-05-27 07:32:00.5Z",
        "2026-11-25",
        "07:00:00",
    ]
    return draw(st.sampled_from(styles))


@st.composite
def values(draw: DrawFn, depth: int = 2) -> str:
    """A value, with arrays over several lines and tables in braces within it."""
    kind = draw(st.sampled_from(["scalar", "scalar", "array", "table"])) if depth else "scalar"
    if kind == "scalar":
        return draw(scalars())
    if kind == "array":
        items = draw(st.lists(values(depth - 1), max_size=3))
        gaps = [draw(LINES) + draw(BLANKS) for _ in items]
        written = ",".join(f"{gap}{item}{draw(LINES)}" for gap, item in zip(gaps, items, strict=True))
        comma = draw(st.sampled_from(["", ",", ", # end\n"])) if items else draw(LINES)
        return f"[{written}{comma}]"
    keys = draw(st.lists(KEYS, max_size=3, unique=True))
    pairs = [f"{dotted_key(draw, key)}{draw(BLANKS)}={draw(BLANKS)}{draw(values(depth - 1))}" for key in keys]
    before, after = draw(BLANKS), draw(BLANKS)
    return f"{{{before}{', '.join(pairs)}{after}}}"


def dotted_key(draw: DrawFn, first: str) -> str:
    """A key of one to three parts, with or without blanks around the points."""
    parts = [first, *draw(st.lists(KEYS, max_size=2))]
    point = draw(st.sampled_from([".", ".", " . ", "\t.", ". "]))
    return point.join(quoted_key(draw, part) for part in parts)


@st.composite
def documents(draw: DrawFn) -> str:
    """A text of keys, values, tables and arrays of tables; not all of them are sound TOML (a key may come twice)."""
    written: list[str] = []
    for _ in range(draw(st.integers(0, 5))):
        written.append(draw(LINES))
        kind = draw(st.sampled_from(["key", "key", "table", "tables"]))
        key = dotted_key(draw, draw(KEYS))
        match kind:
            case "key":
                written.append(f"{draw(BLANKS)}{key}{draw(BLANKS)}={draw(BLANKS)}{draw(values())}{draw(BLANKS)}\n")
            case "table":
                written.append(f"{draw(BLANKS)}[{draw(BLANKS)}{key}{draw(BLANKS)}] # header\n")
            case _:
                written.extend([f"[[{key}]]\n"] * draw(st.integers(1, 2)))
    return "".join(written)
