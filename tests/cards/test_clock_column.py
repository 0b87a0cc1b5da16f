"""Times under one another in one form. Constructed cases."""

from __future__ import annotations

from roundown.cards.card import Cell, Table
from roundown.cards.clock_column import clocks_alike, table_alike


def test_all_show_seconds_where_one_does_and_none_where_none_does() -> None:
    assert clocks_alike(("16:30", "16:30:25", "01:20 next day")) == ("16:30:00", "16:30:25", "01:20:00 next day")
    assert clocks_alike(("16:30", "01:20 next day")) == ("16:30", "01:20 next day")


def test_what_people_wrote_and_what_is_no_time_stays() -> None:
    row = (Cell("16:30", "a"), Cell("16:31:05 off", "b"), Cell("17:00 patrol"), Cell("070", "c"), Cell("30 kt", "d"))
    told = table_alike(Table("", ("",) * 5, (row,)))
    assert [cell.text for cell in told.rows[0]] == ["16:30:00", "16:31:05 off", "17:00 patrol", "070", "30 kt"]
    alone = Table("", ("", ""), ((Cell("16:30", "a"), Cell("17:00:05 patrol")),))
    assert table_alike(alone) == alone
