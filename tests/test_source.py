"""The reader: positions, aliases, merge keys, limits, and hostile text."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wattproof import source
from wattproof.source import Block, Items, PlanUnusable, Text, parse, parse_past, read_text


def problems(text: str) -> list[tuple[int, int, str]]:
    with pytest.raises(PlanUnusable) as caught:
        parse(text, "plan.yaml")
    return [(p.place.line, p.place.column, p.message) for p in caught.value.problems]


def test_every_value_keeps_its_place_in_characters() -> None:
    tree = parse("site: {coldest: -18 °C}\nname: é° x\n", "plan.yaml")
    site = tree[Text("site")]
    assert isinstance(site, Block)
    coldest = site[Text("coldest")]
    assert coldest == "-18 °C"
    assert coldest.place == ("plan.yaml", 1, 17, 1, 23)
    assert tree[Text("name")].place[1:] == (2, 7, 2, 11)


def test_scalars_stay_text() -> None:
    tree = parse("a: 012\nb: 1e3\nc: true\nd: 2027-01-01\ne: null\n", "plan.yaml")
    assert list(tree.values()) == ["012", "1e3", "true", "2027-01-01", "null"]


def test_an_alias_keeps_the_place_where_it_is_used() -> None:
    tree = parse("a: &x {v: 1 V}\nb: *x\n", "plan.yaml")
    used = tree[Text("b")]
    assert isinstance(used, Block)
    assert used.place.line == 2
    assert used[Text("v")].place.line == 1


def test_merge_keys_fill_in_and_do_not_override() -> None:
    tree = parse("a: &x {p: 1, q: 2}\nb:\n  <<: *x\n  q: 3\n", "plan.yaml")
    merged = tree[Text("b")]
    assert merged == {"p": "1", "q": "3"}


def test_a_list_knows_its_extent() -> None:
    items = parse("a:\n  - one\n  - two\nb: 1\n", "plan.yaml")[Text("a")]
    assert isinstance(items, Items)
    assert items.place[1:] == (2, 3, 3, 8)


@pytest.mark.parametrize(
    ("text", "line", "column", "words"),
    [
        ("a: 1\na: 2\n", 2, 1, "stands twice"),
        ("a:\n", 1, 1, "no value"),
        ("{x:1}", 1, 3, "a space is missing behind the colon"),
        ("a: &x [*x]", 1, 8, "inside the value"),
        ("a: *y", 1, 4, "no anchor"),
        ("a: &x 1\nb: &x 2\n", 2, 4, "defined twice"),
        ("a: b: c", 1, 5, "second `key: value`"),
        ("a: !!python/object:os.system x", 1, 4, "tag"),
        ("a: !x 1", 1, 4, "tag"),
        ("- 1", 1, 1, "mapping of keys"),
        ("", 1, 1, "mapping of keys"),
        ("just words", 1, 1, "mapping of keys"),
        ("a: [1, 2", 1, 4, "not closed"),
        ("a: 'x", 1, 4, "never closed"),
        ("size: #10", 1, 1, "behind ` #` is a comment"),
        ("a: #later", 1, 1, "behind ` #` is a comment"),
        ("a: # later", 1, 1, "no value"),
        ("c: {size: #8}", 1, 11, "hides a bracket"),
        ("c: {size: #8}\nd: 1\n", 1, 11, "hides a bracket"),
        ("a: \x00", 1, 4, "U+0000"),
        ("a: x\u2028y", 1, 5, "U+2028"),
        ("a: x\x85y", 1, 5, "U+0085"),
        ("\ta: 1", 1, 1, "indented with a tab"),
        ("a: 1\n---\nb: 2\n", 2, 1, "second one"),
        ("? [a]\n: 1", 1, 3, "one plain word"),
        ("a: 1\n<<: 3\n", 2, 5, "merges a mapping"),
        ("[" * 100_000, 1, 34, "nests deeper"),
        ("a: " + "{b: " * 40 + "1" + "}" * 40, 1, 129, "nests deeper"),
    ],
)
def test_a_mistake_is_one_problem_at_its_place(
    text: str, line: int, column: int, words: str
) -> None:
    found = problems(text)
    assert len(found) == 1
    assert found[0][:2] == (line, column)
    assert words in found[0][2]


SLIPS = [
    ("a:\n  m: 1\n  series:2\nb: 1\n", 3, "a space is missing", "`series: 2`"),
    ("a: {pmax:200 W, voc: 3 V}\n", 1, "a space is missing", "`pmax: 200 W`"),
    ("a:\n  m: 1\n  series = 2\nb: 1\n", 3, "a colon and a space", "`series: 2`"),
    ("a: 'x\nb: 1\nc: 2\n", 1, "quote that opens here", "close it"),
    ("a:\n  b: {c: 1\nd:\n  e: 1\n", 2, "bracket `{`", "close it with `}`"),
    ("a:\n  b: {c: 1,\n      d: 2\n  e: 3\n", 2, "bracket `{`", "close it with `}`"),
    ("a: [b, c\nd: 1\n", 1, "bracket `[`", "close it with `]`"),
    ("a: {b: 1 c: 2}\n", 1, "a comma is missing before `c`", "comma"),
    ("a:\n\tb: 1\n", 2, "indented with a tab", "indent with spaces"),
    ("a: {length: ?, b: 1}\n", 1, "`?` is no value", "`unknown`"),
    ("a:\n  c: ?\n", 2, "`?` is no value", "`unknown`"),
    ("a:\n  b: 1\n   c: 2\n", 3, "by 3 spaces, and the one above it by 2", "alike"),
    ("a:\n    b: 1\n   c: 2\n", 3, "by 3 spaces, and the one above it by 4", "alike"),
    ("a:\n  b: 1\n\u00a0 c: 2\n", 3, "a space that YAML does not take for one", "ordinary"),
    ("a: {b: x}}\n", 1, "closes nothing", "delete it"),
    ("a: @x\n", 1, "cannot start a value", "quote"),
]


@pytest.mark.parametrize(("text", "line", "words", "instead"), SLIPS)
def test_a_slip_is_told_in_its_own_line_with_what_was_meant(
    text: str, line: int, words: str, instead: str
) -> None:
    with pytest.raises(PlanUnusable) as caught:
        parse(text, "plan.yaml")
    problem = caught.value.problems[-1]
    assert problem.place.line == line
    assert words in problem.message
    assert instead in problem.instead


def test_a_gauge_behind_a_number_sign_is_shown_as_it_is_to_be_written() -> None:
    for written, instead in (("#10", "`10 AWG`"), ("#2/0", "`2/0 AWG`"), ("#blue", '`"#blue"`')):
        with pytest.raises(PlanUnusable) as caught:
            parse(f"size: {written}", "plan.yaml")
        assert instead in caught.value.problems[0].instead


def test_all_duplicate_keys_and_empty_values_are_reported_in_one_run() -> None:
    found = problems("a: 1\na: 2\nb:\nc: !!int 3\n")
    assert [line for line, _, _ in found] == [2, 3, 4]


def test_aliases_cannot_multiply_without_end() -> None:
    text = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n"
    for level in range(1, 9):
        text += f"a{level}: &a{level} [{', '.join([f'*a{level - 1}'] * 10)}]\n"
    [(_, _, message)] = problems(text)
    assert "more than 50,000 values" in message


def test_a_long_chain_of_aliases_counts_as_depth() -> None:
    text = "a0: &a0 [x]\n"
    for level in range(1, 2000):
        text += f"a{level}: &a{level} [*a{level - 1}]\n"
    [(_, _, message)] = problems(text)
    assert "deeper" in message


@pytest.fixture(params=["c", "pure"])
def parser(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    if request.param == "pure":
        monkeypatch.setattr(source, "find_spec", lambda name: None)
    return str(request.param)


@pytest.mark.parametrize(
    "text",
    [
        "a: 1\nb: [x, {c: d}]\n",
        "a: &x {p: -0.29 %/°C}\nb: *x\n",
        "a:\n  - one\n  - b: 'quoted: text'\n    c: |\n      long\n      text\nd: >-\n  folded\n",
        '# only\na: 1 # comment\n\n\nb: "x\\ty"\n',
        "a: {taken: 2026-06-14 12:40, b: [9:05, 'at 9:05']}  # 9:05\nc: 12:40\n",
        "a: \ue03a\nb: 12:40\n",
    ],
)
def test_both_parsers_give_the_same_tree(parser: str, text: str) -> None:
    tree = parse(text, "plan.yaml")
    assert _shape(tree) == _SHAPES.setdefault(text, _shape(tree))


_SHAPES: dict[str, object] = {}


def test_a_time_of_day_between_brackets_is_read(parser: str) -> None:
    assert _values(parse("a: {taken: 2026-06-14 12:40, b: [9:05]}", "plan.yaml")) == {
        "a": {"taken": "2026-06-14 12:40", "b": ["9:05"]}
    }


def _values(node: object) -> object:
    if isinstance(node, Block):
        return {str(k): _values(v) for k, v in node.items()}
    return [_values(v) for v in node] if isinstance(node, Items) else str(node)


def _shape(node: object) -> object:
    if isinstance(node, Block):
        return {str(k): (k.place, _shape(v)) for k, v in node.items()}
    if isinstance(node, Items):
        return [_shape(v) for v in node]
    assert isinstance(node, Text)
    return str(node), node.place[:3]


@given(st.text(max_size=200))
def test_any_text_gives_a_tree_or_problems(text: str) -> None:
    try:
        assert isinstance(parse(text, "plan.yaml"), Block)
    except PlanUnusable as unusable:
        assert unusable.problems
        assert all(p.message and p.place.line >= 1 for p in unusable.problems)


@given(st.text(alphabet="ab:-[]{}&*!|>'\"#%@`, \n\t", max_size=60))
def test_any_yaml_like_text_gives_a_tree_or_problems(text: str) -> None:
    try:
        parse(text, "plan.yaml")
    except PlanUnusable as unusable:
        assert unusable.problems


class TestFiles:
    def test_a_missing_file(self, tmp_path: object) -> None:
        with pytest.raises(PlanUnusable, match="cannot be read"):
            read_text(f"{tmp_path}/none.yaml", shown_as="none.yaml")

    def test_a_folder_is_no_plan(self, tmp_path: object) -> None:
        with pytest.raises(PlanUnusable, match="not a regular file"):
            read_text(f"{tmp_path}", shown_as="folder")

    def test_text_that_is_not_utf_8(self, tmp_path: object) -> None:
        with open(f"{tmp_path}/x.yaml", "wb") as file:
            file.write(b"a: 1\nb: \xff\n")
        with pytest.raises(PlanUnusable) as caught:
            read_text(f"{tmp_path}/x.yaml", shown_as="x.yaml")
        assert caught.value.problems[0].place[1:3] == (2, 4)

    def test_a_file_that_is_too_large(self, tmp_path: object) -> None:
        with open(f"{tmp_path}/x.yaml", "wb") as file:
            file.write(b"#" * 1_000_001)
        with pytest.raises(PlanUnusable, match="larger than"):
            read_text(f"{tmp_path}/x.yaml", shown_as="x.yaml")

    def test_a_byte_order_mark_is_no_part_of_the_text(self, tmp_path: object) -> None:
        with open(f"{tmp_path}/x.yaml", "wb") as file:
            file.write(b"\xef\xbb\xbfa: 1\n")
        assert read_text(f"{tmp_path}/x.yaml", shown_as="x.yaml") == "a: 1\n"


GLUED = """\
wattproof: 1
datasheets:
  modules:
    big: {voc:49.5 V, isc:11.5 A, vmp: 41 V, imp: 10.9 A?}
strings:
  roof:
    module = big
    series: 2
"""


def test_slips_that_stop_the_parser_are_all_told_where_they_stand() -> None:
    """One stood in the way of the next, so that each took a run."""
    block, problems = parse_past(GLUED, "plan.yaml")
    told = [(p.place.line, p.place.column, p.instead.partition("`")[2]) for p in problems]
    assert told == [
        (4, 14, "voc: 49.5 V`"),
        (4, 26, "isc: 11.5 A`"),
        (4, 57, "10.9 A` if it is measured or printed so, or `unknown`"),
        (7, 5, "module: big`"),
    ]
    big = block["datasheets"]["modules"]["big"]  # type: ignore[index]
    assert dict(big) == {"voc": "49.5 V", "isc": "11.5 A", "vmp": "41 V", "imp": "10.9 A"}
    assert [held.place.column for held in big.values()] == [15, 27, 40, 51]  # as in the file


def test_tabs_are_told_once_and_read_on() -> None:
    block, problems = parse_past("a:\n\tb: 1\n\tc:\n\t\td: 2\n", "plan.yaml")
    assert block == {"a": {"b": "1", "c": {"d": "2"}}}
    [problem] = problems
    assert problem.message == "this line is indented with a tab, and 2 more lines are"
    with pytest.raises(PlanUnusable) as unusable:
        parse_past("a:\n    b: 1\n\tc: 2\n", "plan.yaml")
    assert len(unusable.value.problems) == 1  # the indentation that two spaces would make is ours


def test_a_break_behind_slips_is_told_with_them() -> None:
    with pytest.raises(PlanUnusable) as unusable:
        parse_past("a: {b:1}\nc: {d: 1\n", "plan.yaml")
    assert [problem.place.line for problem in unusable.value.problems] == [1, 2]


@pytest.mark.parametrize(
    ("text", "instead", "meant"),
    [
        ("a: (b: 1, c: 2)\n", "write `{b: 1, c: 2}`", {"a": {"b": "1", "c": "2"}}),
        ("title: Van: mine\n", 'write `title: "Van: mine"`', {"title": "Van: mine"}),
        ("a: {b: 1}}\nc: 2\n", "delete it", {"a": {"b": "1"}, "c": "2"}),
        ("```yaml\na: 1\n```\n", "delete it", {"a": "1"}),
        ("a: 1\n// of labels\nb: 2\n", "write `# of labels`", {"a": "1", "b": "2"}),
        ("a:\n  voc: 1\n  isc 5.2 A\n", "write `isc: 5.2 A`", {"a": {"voc": "1", "isc": "5.2 A"}}),
        ("a: 1\nbb\n  c: 2\n", "write `bb:`", {"a": "1", "bb": {"c": "2"}}),
        ("a: {bb=1, cc = 2}\n", "write `bb: 1`", {"a": {"bb": "1", "cc": "2"}}),
        ("a:\n\u00a0\u00a0b: 1\n", "type ordinary spaces", {"a": {"b": "1"}}),
        ("a: {b: 1 c: 2}\n", "write a comma", {"a": {"b": "1", "c": "2"}}),
    ],
)
def test_a_slip_of_which_the_meaning_is_plain_is_read_on(
    text: str, instead: str, meant: object
) -> None:
    block, problems = parse_past(text, "plan.yaml")
    assert instead in problems[0].instead
    assert block == meant
