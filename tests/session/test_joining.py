from bedview.plan.procedure import compile_piece
from bedview.plan.yarn_on_hand import Join
from bedview.session.joining import with_join_reminders
from tests.plan.knitting import cast_on, knitted, plain


def test_a_reminder_stands_before_the_first_row_of_each_ball() -> None:
    repeat = {"kind": "repeat", "times": 2, "segments": [plain(4)]}
    procedure = knitted([cast_on(), plain(20), repeat])
    joins = [Join(number, number, in_short_rows=False) for number in (1, 20, 21, 26)]
    piece = with_join_reminders(procedure, joins, "larch wool")
    rows = [[(each.row, each.text) for each in part.reminders] for part in piece.segments]
    words = "Begin a new ball of larch wool"
    # Row 26 is the 6th of the repeat: after 5 of its rows.
    assert rows == [[], [(0, words), (19, words)], [(0, words), (5, words)]]
    told = compile_piece(piece)
    before_pass = [int(step.passes) + (not step.makes_pass) for step in told.steps if words in step.hands]
    assert before_pass == [1, 20, 21, 26]
    # Asked for again, nothing more comes.
    assert with_join_reminders(told, joins, "larch wool") == piece
