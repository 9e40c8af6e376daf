"""Look-ups: exact, by alias, in ranges; what is missing says so."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.documents.errors import InputError
from checker.documents.source import Source
from checker.tables import NoEntry, Table, TableError, load_tables, lookup, read_table

FOLDER = Path(__file__).parents[2] / "tables"
TABLES = load_tables(FOLDER)

RANGES = """\
table: ranges
title: Ranges
cite: {nec-2017: NEC 2017 R}
note: none
keys:
  column: {type: number, unit: degC}
  length: {type: number, unit: ft, match: MATCH}
columns:
  factor: {unit: ratio, source: a book, checked: not checked}
rows:
  - [60, 1, 10]
  - [60, 2, 20]
  - [60, 3, ~]
  - [60, 4, 40]
  - [90, 5, 50]
"""


def ranges(match: str) -> Table:
    return read_table(Source.of_text(RANGES.replace("MATCH", match), "ranges.yaml"))


@pytest.mark.parametrize(
    ("match", "inches", "value"),
    [
        ("up_to", 0.0, 10), ("up_to", 12.0, 10), ("up_to", 12.0 + 1e-9, 10),
        ("up_to", 12.001, 20), ("up_to", 24.0, 20), ("up_to", 48.0, 40),
        ("from", 12.0, 10), ("from", 12.0 - 1e-9, 10), ("from", 23.999, 10),
        ("from", 24.0, 20), ("from", 48.0, 40), ("from", 1e9, 40),
    ],
)  # fmt: skip
def test_a_limit_met_exactly_is_met(match: str, inches: float, value: float) -> None:
    assert ranges(match).getter("factor")(60.0, inches) == value


@pytest.mark.parametrize(
    ("match", "column", "inches"),
    [
        ("up_to", 60.0, 48.1), ("up_to", 60.0, 36.0), ("up_to", 60.0, math.inf),
        ("up_to", 60.0, math.nan), ("up_to", 75.0, 12.0), ("up_to", 90.0, 60.1),
        ("from", 60.0, 11.9), ("from", 60.0, 36.0), ("from", 60.0, math.nan),
        ("from", 90.0, 59.0),
    ],
)  # fmt: skip
def test_outside_the_rows_or_in_an_empty_cell_there_is_nothing(
    match: str, column: float, inches: float
) -> None:
    with pytest.raises(NoEntry):
        ranges(match).getter("factor")(column, inches)


@given(st.floats(min_value=0, max_value=100, allow_nan=False))
def test_up_to_is_the_first_row_not_below(inches: float) -> None:
    """Against a search row by row, with the same stated tolerance of 1e-9."""
    table = ranges("up_to")
    wanted = None
    for row in table.row_objects:
        if row.column == 60.0 and row.length >= inches * (1 - 1e-9):
            wanted = row.factor
            break
    if wanted is None:
        with pytest.raises(NoEntry):
            table.getter("factor")(60.0, inches)
    else:
        assert table.getter("factor")(60.0, inches) == wanted


def test_numbers_that_lost_a_bit_in_conversion_are_found_exactly() -> None:
    find = TABLES["ampacity"].getter("ampacity")
    assert find("copper", math.nextafter(75.0, 80), "12 AWG") == find("copper", 75.0, "12 AWG")
    rows = TABLES["ampacity"].rows_getter(("material", "column"))
    assert rows("copper", math.nextafter(75.0, 80)) == rows("copper", 75.0)
    with pytest.raises(NoEntry):
        find("copper", 76.0, "12 AWG")


def test_aliases_lead_to_the_row_of_the_other_name() -> None:
    table = TABLES["conductor_dimensions"]
    area = table.getter("area")
    for alias, target in table.keys[0].also.items():
        size = "18 AWG" if target == "TFN" else "10 AWG"
        assert area(alias, size) == area(target, size)
        assert table.rows_getter(("insulation",))(alias) == table.rows_getter(("insulation",))(
            target
        )
    assert area("RHW-2", "10 AWG") > area("RHW-2*", "10 AWG")  # plain means with covering


def test_rows_keep_the_order_of_the_trade_and_have_attributes() -> None:
    rows = TABLES["raceway_dimensions"].rows_getter(("method",))("EMT")
    assert [row.size for row in rows][:4] == ["1/2", "3/4", "1", "1-1/4"]
    assert next(row for row in rows if row.area >= 1.5).size == "1-1/2"
    assert rows[0].method == "EMT"
    with pytest.raises(AttributeError):
        rows[0].area = 3.0
    assert len(TABLES["raceway_dimensions"].rows_getter()()) == 98


def test_getters_are_kept() -> None:
    table = TABLES["raceway_dimensions"]
    assert table.getter("area") is table.getter("area")
    assert table.rows_getter(("method",)) is table.rows_getter(("method",))


def test_what_is_missing_is_said_in_words() -> None:
    with pytest.raises(NoEntry) as caught:
        TABLES["conductor_dimensions"].getter("area")("THHN", "2000 kcmil")
    assert str(caught.value).endswith("no area for THHN, 2000 kcmil")
    with pytest.raises(NoEntry) as caught:
        TABLES["ambient_correction"].getter("factor")(60.0, 56.0)
    assert str(caught.value).endswith("no factor for column 60 °C, ambient 56 °C")
    with pytest.raises(NoEntry) as caught:
        TABLES["raceway_dimensions"].rows_getter(("method",))("EMX")
    assert str(caught.value).endswith("no row for EMX")
    with pytest.raises(NoEntry):
        TABLES["raceway_dimensions"].getter("outside_diameter")("FMC", "1/2")


def test_a_look_up_in_words_cites_the_edition() -> None:
    table = TABLES["ampacity"]
    key = ("copper", 75.0, "12 AWG")
    words = "copper, column 75 °C, 12 AWG"
    assert table.explain_key(key) == f"{table.title}: {words}"
    cited = table.for_edition("nec-2017").explain_key(key)
    assert cited == f"NEC 2017 Table 310.15(B)(16): {words}"


def test_unknown_names_have_the_nearest_one() -> None:
    with pytest.raises(TableError) as caught:
        TABLES["raceway_dimensions"].getter("aera")
    assert (caught.value.what, caught.value.suggestion) == ("column", "area")
    with pytest.raises(TableError) as caught:
        TABLES["raceway_dimensions"].rows_getter(("methode",))
    assert (caught.value.what, caught.value.suggestion) == ("key", "method")
    with pytest.raises(TableError) as caught:
        TABLES.find("ampacit")
    assert (caught.value.what, caught.value.suggestion) == ("table", "ampacity")
    with pytest.raises(KeyError):
        TABLES["ampacit"]


def test_a_set_reads_a_file_only_when_it_is_used(tmp_path: Path) -> None:
    (tmp_path / "good.yaml").write_text((FOLDER / "bend_radius.yaml").read_text("utf-8"), "utf-8")
    (tmp_path / "bad.yaml").write_text("table: [", "utf-8")
    (tmp_path / "notes.txt").write_text("not a table", "utf-8")
    tables = load_tables(tmp_path)
    assert list(tables) == ["bad", "good"]
    assert "bad" in tables
    with pytest.raises(InputError):
        tables["bad"]
    with pytest.raises(InputError):
        tables["good"]  # its name is not the file's
    with pytest.raises(InputError):
        load_tables(tmp_path / "nowhere")


def test_a_set_of_an_edition_and_with_tables_replaced() -> None:
    chosen = TABLES.for_edition("nec-2023")
    assert chosen["standard_ratings"].rows[0] == (10.0, 10.0)
    assert chosen["ampacity"].edition == "nec-2023"
    assert chosen.digest == TABLES.digest
    cut = chosen["standard_ratings"].amended(remove_rows=[{"rating": "10 A"}]).table
    changed = chosen.replaced({"standard_ratings": cut})
    assert changed["standard_ratings"].rows[0] == (15.0, 15.0)
    assert chosen["standard_ratings"].rows[0] == (10.0, 10.0)
    assert changed["ampacity"] is chosen["ampacity"]
    with pytest.raises(TableError):
        chosen.replaced({"standard_rating": cut})


def test_the_digest_follows_names_and_bytes(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("x: 1\n", "utf-8")
    first = load_tables(tmp_path).digest
    assert first.startswith("sha256:")
    assert load_tables(tmp_path).digest == first
    (tmp_path / "a.yaml").write_text("x: 1 \n", "utf-8")
    second = load_tables(tmp_path).digest
    (tmp_path / "a.yaml").rename(tmp_path / "b.yaml")
    assert len({first, second, load_tables(tmp_path).digest}) == 3


WIDE = """\
table: wide
title: Wide
cite: {nec-2017: NEC 2017 W}
note: none
keys:
  name: {type: text}
  column: {type: number, unit: degC}
columns:
  factor: {unit: ratio, source: a book, checked: not checked}
rows:
""" + "".join(f"  - [n{n}, {c}, {n}]\n" for n in range(100) for c in (60, 75, 90))


@pytest.mark.parametrize("way", ["cell", "rows"])
def test_a_miss_is_looked_for_once_among_the_rows_of_its_name(
    way: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    table = read_table(Source.of_text(WIDE, "wide.yaml"))
    get = table.getter("factor") if way == "cell" else table.rows_getter(("name", "column"))
    compared = []
    real = lookup.isclose
    monkeypatch.setattr(
        lookup, "isclose", lambda a, b, **more: compared.append(a) or real(a, b, **more)
    )
    for _ in range(50):
        with pytest.raises(NoEntry):
            get("n7", 61.0)
        with pytest.raises(NoEntry):
            get("none", 60.0)
        assert get("n7", 60.0 + 1e-10)
    assert len(compared) <= 4  # 60, 75 and 90 for the first; 60 for the last
