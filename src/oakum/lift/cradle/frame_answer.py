"""The answer to "does this frame carry it?": state by state, one frozen object for page, sheet and JSON alike."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.estimate import Spread
from oakum.lift.checks import Check, hardest, verdict_words
from oakum.lift.cradle.joints import Joint
from oakum.lift.cradle.states import StateKey


@dataclass(frozen=True, slots=True)
class MemberUse:
    """One member that bends, in one state: moment N m, shear N, sag m without the load factor; what is used most."""

    name: str
    moment_nm: float
    shear_n: float
    sag_m: float
    lasting_sag_m: float
    utilisation: float


@dataclass(frozen=True, slots=True)
class StandLoad:
    """What one stand or lifting point carries, N, at the 95th percentile of the weight and the worst centre."""

    name: str
    member: str
    force_n: float


@dataclass(frozen=True, slots=True)
class StateAnswer:
    """One state. `joint_n`: greatest force between the members of each joint, by its name, N, either way."""

    key: StateKey
    find_n: Spread
    stands: tuple[StandLoad, ...]
    members: tuple[MemberUse, ...]
    joint_n: tuple[tuple[str, float], ...]
    checks: tuple[Check, ...]
    objections: tuple[str, ...]

    @property
    def governing(self) -> Check | None:
        """The check with the highest utilisation, None where nothing could be checked."""
        return hardest(self.checks)


@dataclass(frozen=True, slots=True)
class CradleAnswer:
    """Everything about the frame in its states."""

    title: str
    states: tuple[StateAnswer, ...]
    joints: tuple[Joint, ...]
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]

    def state(self, key: StateKey) -> StateAnswer:
        """Return the answer of a state."""
        return next(s for s in self.states if s.key == key)

    @property
    def governing(self) -> tuple[StateKey, Check] | None:
        """The state and check with the highest utilisation, None where nothing could be checked."""
        found = [(s.key, s.governing) for s in self.states]
        rated = [(k, c) for k, c in found if c is not None]
        return max(rated, key=lambda f: f[1].utilisation or 0.0, default=None)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)
