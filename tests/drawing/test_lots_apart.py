from notebook import Notebook
from seasons import lot, season
from seedstart.drawing.lines import as_text
from seedstart.drawing.lots_table import lot_lines, percent_in_words
from seedstart.planning.prospects.own_record import figure_of
from seedstart.season.journal.entries import Counted, Sown


def test_sowings_that_lie_apart_are_said_and_not_pooled() -> None:
    # 11 % and 44 % are the two sowings of one lot that a grower asked about
    book = Notebook()
    for name, up, of in (("onion", 12, 110), ("onion/2", 88, 200)):
        book.write(Sown, "1-02", sowing=name, lot="onion", seeds=of, station="shelf")
        book.write(Counted, "2-20", sowing=name, standing=up, final=True)
    text = lot("onion", "onion", station='"shelf"')
    plan = season(text)
    figure = figure_of(plan.lots[0], plan, book.records(text))
    page = " ".join(
        as_text(line) for line in lot_lines(plan.lots[0], figure, [], {}, {}, width=400)
    )
    assert percent_in_words(figure) == "11, 44 % apart"
    assert "onion 12 of 110 and onion/2 88 of 200 (11 % and 44 %): more than chance" in page
    assert "sow a third, or test 4 × 50" in page
    assert "95 % interval" not in page
