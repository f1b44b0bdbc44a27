from bedview.session.press_guard import PressGuard


def test_presses_far_apart_all_count() -> None:
    guard = PressGuard()
    assert [guard.counts(now) for now in (0, 300, 900)] == [True, True, True]


def test_a_bouncing_pedal_counts_once() -> None:
    guard = PressGuard()
    assert [guard.counts(now) for now in (0, 40, 299)] == [True, False, False]


def test_a_key_held_down_counts_once_however_long() -> None:
    guard = PressGuard()
    held = [guard.counts(now, repeated=now > 0) for now in range(0, 5000, 30)]
    assert held.count(True) == 1


def test_a_pedal_that_repeats_without_saying_so_counts_once() -> None:
    guard = PressGuard()
    assert [guard.counts(now) for now in range(0, 5000, 250)].count(True) == 1


def test_after_a_pause_it_counts_again() -> None:
    guard = PressGuard()
    presses = [guard.counts(now) for now in (0, 100, 200, 500)]
    assert presses == [True, False, False, True]
