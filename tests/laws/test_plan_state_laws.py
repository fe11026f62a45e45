"""Laws of the states of a plan: never released by one person, nor for another plan, nor past an end it did not know."""

from __future__ import annotations

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from oakum.desk.lifts.plan_state import plan_state
from oakum.record import Entry
from oakum.record.log.clock import Stamp
from oakum.record.log.heads import standing

PEOPLE = ("p-aaaaaaaa", "p-bbbbbbbb", "p-cccccccc")
MARKS = ("a" * 64, "b" * 64)
KINDS = ("plan.briefed", "plan.released", "plan.released", "plan.released", "plan.abandoned", "plan.done", "struck")
steps = st.lists(
    st.tuples(
        st.sampled_from(KINDS),
        st.sampled_from(PEOPLE),
        st.sampled_from(MARKS),
        st.integers(0, 30),
        st.booleans(),
    ),
    max_size=14,
)


def told(steps: list[tuple[str, str, str, int, bool]]) -> list[Entry]:
    """Entries about one find; a briefing or release knows of all earlier ends, or of none."""
    entries: list[Entry] = []
    for at, (kind, author, mark, aim, knows) in enumerate(steps, start=1):
        ends = [entry.id for entry in entries if entry.kind in ("plan.abandoned", "plan.done")]
        body: dict[str, Any] = {"fingerprint": mark, "rests_on": [["body", mark]], "after": ends if knows else []}
        over: tuple[str, ...] = ()
        if kind == "struck":
            if not entries:
                continue
            over, body = (entries[aim % len(entries)].id,), {"reason": "r"}
        entries.append(Entry(f"e{at}", "hut", at, Stamp(at, 0), author, kind, "f", body, over, "", ""))
    return entries


@given(steps, st.sampled_from(MARKS))
def test_a_release_takes_two_people_for_this_plan_who_know_of_every_end(
    done: list[tuple[str, str, str, int, bool]], mark: str
) -> None:
    entries = told(done)
    state = plan_state(entries, mark, (("body", mark),))
    alive = standing(entries)
    ends = {entry.id for entry in alive if entry.kind in ("plan.abandoned", "plan.done")}
    people = {
        entry.author
        for entry in alive
        if entry.kind == "plan.released" and entry.body["fingerprint"] == mark and ends <= set(entry.body["after"])
    }
    assert (state.stage == "released") is (len(people) >= 2)
    assert set(state.released_by) == people
    assert state.stage != "released" or state.withdrawn is None
    assert state.withdrawn is None or state.stage != "released"


@given(steps, st.sampled_from(MARKS), st.randoms(use_true_random=False))
def test_the_state_does_not_depend_on_the_order_in_which_entries_arrived(
    done: list[tuple[str, str, str, int, bool]], mark: str, rng: Any
) -> None:
    entries = told(done)
    shuffled = list(entries)
    rng.shuffle(shuffled)
    assert plan_state(entries, mark, (("body", mark),)) == plan_state(shuffled, mark, (("body", mark),))


@given(steps, st.sampled_from(MARKS))
def test_a_change_of_what_it_rests_on_leaves_no_release(
    done: list[tuple[str, str, str, int, bool]], mark: str
) -> None:
    state = plan_state(told(done), "f" * 64, (("body", "f" * 64),))
    assert state.stage != "released" and state.released_by == ()
    if plan_state(told(done), mark, (("body", mark),)).stage == "released":
        assert str(state.withdrawn).startswith("the release is withdrawn: ")
