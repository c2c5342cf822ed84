"""Wet, doubled and palm touches: one tap is one tap."""

from __future__ import annotations

import pytest

from fieldapp.screens.touch import STUCK, Guard


class Time:
    def __init__(self):
        self.now = 0.0

    def __call__(self):
        return self.now


@pytest.fixture
def time():
    return Time()


@pytest.fixture
def guard(time):
    return Guard(time)


def tap(guard, finger):
    """Return whether a finger that comes down and lifts is a tap."""
    if guard.down(finger) and guard.up(finger):
        guard.tapped()
        return True
    return False


def test_a_doubled_tap_counts_once(guard, time):
    """The second of two taps within a moment is a bounce."""
    assert tap(guard, "a")
    time.now += 0.15
    assert not tap(guard, "b")


def test_the_next_tap_of_a_quick_keeper_counts(guard, time):
    """Half a second later it is a tap."""
    assert tap(guard, "a")
    time.now += 0.5
    assert tap(guard, "b")


def test_a_second_finger_is_ignored_while_one_is_down(guard):
    """The ball of the hand beside a finger is no tap, and lifting it neither."""
    assert guard.down("finger")
    assert not guard.down("palm")
    assert not guard.up("palm")
    assert guard.up("finger")


def test_a_finger_whose_lifting_was_lost_blocks_for_a_while_only(guard, time):
    """A touch event that never ended does not end the program for the keeper."""
    assert guard.down("lost")
    time.now += STUCK + 0.1
    assert tap(guard, "next")
