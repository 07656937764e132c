"""The line of each key, judged by hand, by tomllib and by another TOML parser."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
import tree_sitter
import tree_sitter_toml
from hypothesis import given, settings
from hypothesis import strategies as st

from geomgen.design import example_path
from geomgen.design.key_lines import find_lines
from geomgen.design.keypath import KeyPath, parsed, written

HARD = """\
# a remark with [brackets] = and "quotes"
top = 1
"quoted key" = 'literal # no remark'
'lit.eral' = "esc \\" # ] }"
dotted.in.base = true
text = \"\"\"
[not.a.table]
key = 1
\"\"\"\"
after = '''
x = ''''

[table] # remark
a = [ # remark ]
  1, [2,
  3], # 4
  { x = 1, y.z = "}" }, { x = [
    5 ] },
]
b = { c = { d = 1979-05-27T07:32:00 } }
[  spaced . "out" ]
k=0x10
[implied.child]
k = 1
[implied]
own = 1.5
[[list]]
n = 1
[list.sub]
m = 1
[[list]]
n = 2
[[list.deep]]
o = 1
[[list.deep]]
o = 2
["größe"]
"höhe" = 3
"""
BY_HAND = {
    ("top",): 2,
    ("quoted key",): 3,
    ("lit.eral",): 4,
    ("dotted", "in", "base"): 5,
    ("text",): 6,
    ("after",): 10,
    ("table",): 13,
    ("table", "a"): 14,
    ("table", "a", 0): 15,
    ("table", "a", 1): 15,
    ("table", "a", 1, 1): 16,
    ("table", "a", 2): 17,
    ("table", "a", 2, "y", "z"): 17,
    ("table", "a", 3, "x"): 17,
    ("table", "a", 3, "x", 0): 18,
    ("table", "b", "c", "d"): 20,
    ("spaced", "out", "k"): 22,
    ("implied", "child"): 23,
    ("implied",): 25,
    ("implied", "own"): 26,
    ("list", 0): 27,
    ("list", 0, "sub", "m"): 30,
    ("list", 1): 31,
    ("list", 1, "n"): 32,
    ("list", 1, "deep", 1, "o"): 36,
    ("größe", "höhe"): 38,
}


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_lines_by_hand(ends: str) -> None:
    tomllib.loads(HARD)  # it is TOML
    lines = find_lines(HARD.replace("\n", ends))
    assert {path: lines.first.get(path) for path in BY_HAND} == BY_HAND
    assert lines.twice == []


def test_the_nearest_parent_stands_in_for_a_key_that_is_not_there() -> None:
    lines = find_lines(HARD)
    assert lines.nearest(("table", "b", "c", "missing")) == 20
    assert lines.nearest(("implied", "child", "missing", "deeper")) == 23
    assert lines.nearest(("dotted", "in", "other")) == 5
    assert lines.nearest(("list", 7, "n")) == 27
    assert lines.nearest(("nothing",)) == 1
    assert lines.nearest(()) == 1


def test_keys_that_stand_twice_are_found() -> None:
    assert find_lines("[a]\nb = 1\n[c]\n[a]\n").twice == [(("a",), 1, 4)]
    assert find_lines("a = { b = 1,\n b = 2 }").twice == [(("a", "b"), 1, 2)]


@given(st.text(alphabet="ab[]{}=,.\"'#\\\n ", max_size=60))
@settings(max_examples=500)
def test_the_scan_of_a_broken_text_ends(text: str) -> None:
    lines = find_lines("a = 1\na = 2\n" + text)
    assert (("a",), 1, 2) in lines.twice
    assert all(line <= 3 + text.count("\n") for line in lines.first.values())


def _paths(value: Any, path: KeyPath = ()) -> list[KeyPath]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return ([path] if path else []) + [deep for step, item in inner for deep in _paths(item, (*path, step))]


@pytest.mark.parametrize("name", ["starter", "lantern", "kite_day"])
def test_every_key_of_the_examples_has_its_line(name: str) -> None:
    text = example_path(name).read_text(encoding="utf-8")
    lines, rows = find_lines(text), text.split("\n")
    for path in _paths(tomllib.loads(text)):
        line = lines.nearest(path)
        name_of = next(str(step) for step in reversed(path) if isinstance(step, str))
        assert path in lines.first or path in lines.parent, path
        assert name_of in rows[line - 1] or isinstance(path[-1], int), (path, line)


@pytest.mark.parametrize("name", ["starter", "lantern", "kite_day"])
def test_a_key_begins_in_the_line_where_tomllib_first_sees_it(name: str) -> None:
    """Cut after line n, the text holds the key; cut before, it doesn't: for all keys on one line of their own."""
    text = example_path(name).read_text(encoding="utf-8")
    rows, lines = text.split("\n"), find_lines(text)
    seen: set[KeyPath] = set()
    judged = 0
    for n in range(1, len(rows) + 1):
        try:
            now = set(_paths(tomllib.loads("\n".join(rows[:n]))))
        except tomllib.TOMLDecodeError:
            continue  # within a value of several lines
        if len(rows[:n]) and not rows[n - 1].startswith("]"):
            for path in now - seen:
                assert lines.nearest(path) == n, path
                judged += 1
        seen = now
    assert judged > 100


keys = st.sampled_from(["a", "b", "c", '"d e"', "'f.g'", "h.i", 'j."k"'])
scalars = st.sampled_from(
    ["1", '"t # ]"', "'''m\n[x]\n'''", "true", "[1,\n 2]", "{ x = 1, y = [3] }", "[{ z = 1 },\n{ z = 2 }]"]
)
statements = st.one_of(
    st.tuples(keys, scalars).map(lambda pair: f"{pair[0]} = {pair[1]}"),
    keys.map(lambda key: f"[{key}]"),
    keys.map(lambda key: f"[[q.{key}]]"),
    st.just("# remark = [\n"),
)


@given(st.lists(statements, max_size=8).map("\n".join))
@settings(max_examples=300, deadline=None)
def test_another_parser_finds_the_same_lines(text: str) -> None:
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return
    lines = find_lines(text)
    pairs: list[int] = []
    stack = [tree_sitter.Parser(tree_sitter.Language(tree_sitter_toml.language())).parse(text.encode()).root_node]
    while stack:
        node = stack.pop()
        stack += node.children
        if node.type in ("pair", "table", "table_array_element"):
            pairs.append(node.start_point[0] + 1)
    ours = [
        line
        for path, line in lines.first.items()
        if isinstance(path[-1], str) or (path[0] == "q" and _is_header(path, raw))
    ]
    assert sorted(pairs) == sorted(ours)
    for path in _paths(raw):
        assert path in lines.first or path in lines.parent, path


def _is_header(path: KeyPath, raw: Any) -> bool:
    for step in path:
        raw = raw[step]
    return isinstance(raw, dict) and "z" not in raw


@given(st.lists(st.one_of(st.text(min_size=1), st.integers(0, 99)), min_size=1))
def test_key_paths_are_written_and_read_back(path: list[str | int]) -> None:
    if isinstance(path[0], int) or any('"' in step or "\\" in step for step in path if isinstance(step, str)):
        return
    assert parsed(written(tuple(path))) == tuple(path)


def test_key_paths_as_makers_write_them() -> None:
    assert written(("blade", "along", 0, "chord")) == "blade.along[0].chord"
    assert parsed("blade.along.0.chord") == parsed("blade.along[0].chord") == ("blade", "along", 0, "chord")
    assert written(("fitting", "2", "a.b")) == 'fitting."2"."a.b"'
