"""A cradle as somebody means to build and use it: frame, rests, states, straps, beds, tray and stock."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.estimate import Estimate
from oakum.lift.cradle.beds import Foam
from oakum.lift.cradle.frame import Array, Frame, Point
from oakum.lift.cradle.limp import ComesOut, LimpFind
from oakum.lift.cradle.states import FrameState, Rest, Stand, StateKey
from oakum.lift.cradle.straps import Straps
from oakum.lift.cradle.timber import Duration


@dataclass(frozen=True, slots=True)
class CradleState:
    """One state as it is planned: a `FrameState` before anybody has weighed the find. None is not known."""

    key: StateKey
    stands: tuple[Stand, ...]
    duration: Duration | None = None
    vertical_factor: float | None = None
    vertical_source: str = ""
    side_share: float | None = None
    side_source: str = ""
    friction: float | None = None
    lashings_n: float | None = None
    height_m: float | None = None
    edge_m: float | None = None
    stops: tuple[str, ...] = ()
    sling_deg: float | None = None
    skew_factor: float | None = None

    @property
    def is_wet(self) -> bool:
        """Whether frame and find are under water."""
        return self.key == "in water"

    def loaded(self, find_n: Array, centre_m: Array, use_weights: Array | None) -> FrameState:
        """Return the state with the find's weight (n,) N and the place (n, 2) or (2,) m of its centre in it."""
        return FrameState(
            key=self.key,
            stands=self.stands,
            find_n=find_n,
            centre_m=centre_m,
            duration=self.duration,
            vertical_factor=self.vertical_factor,
            vertical_source=self.vertical_source,
            side_share=self.side_share,
            side_source=self.side_source,
            friction=self.friction,
            lashings_n=self.lashings_n,
            height_m=self.height_m,
            edge_m=self.edge_m,
            stops=self.stops,
            sling_deg=self.sling_deg,
            skew_factor=self.skew_factor,
            use_weights=use_weights,
        )


@dataclass(frozen=True, slots=True)
class Bearing:
    """A surface of the find that bears alike. `share` of its weight, None: not known (all of it where it is alone).

    `allowable_pa`: what the conservator lets this surface be pressed with, None: not known; there is no default.
    """

    name: str
    area_m2: float
    allowable_pa: float | None = None
    share: float | None = None


@dataclass(frozen=True, slots=True)
class Pad:
    """`count` foam pads of `area_m2` each; `share` of the find on each; density of the foam above; None: not known."""

    foam: Foam
    area_m2: float
    count: int = 1
    share: float | None = None
    density_kg_m3: float | None = None


@dataclass(frozen=True, slots=True)
class Tray:
    """A thin, limp find on bars. Density of the find full of water, distance of the bars; None: not known."""

    find: LimpFind
    density_kg_m3: Estimate | None = None
    spacing_m: float | None = None
    comes_out: ComesOut | None = None


@dataclass(frozen=True, slots=True)
class SectionStock:
    """Lengths on sale of one section, by its words."""

    section: str
    lengths_m: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class CradlePlan:
    """The whole cradle. What is None, empty or left out is not known or not there; nothing is assumed for it.

    `at_m`: where the frame's origin lies in the body's frame (axes parallel). `sag_m`: how far a member may sag under
    the find. `stock_m`: lengths on sale of every section that `own_stock` does not name; `kerf_m`: the saw cut.
    """

    title: str
    frame: Frame | None
    at_m: Point = (0.0, 0.0, 0.0)
    rests: tuple[Rest, ...] = ()
    states: tuple[CradleState, ...] = ()
    sag_m: float | None = None
    service_class_known: bool = False
    straps: Straps | None = None
    bearings: tuple[Bearing, ...] = ()
    pads: tuple[Pad, ...] = ()
    tray: Tray | None = None
    stock_m: tuple[float, ...] = ()
    own_stock: tuple[SectionStock, ...] = ()
    kerf_m: float | None = None
    notes: str = ""
    source: str = ""
    mark: str = ""

    def state(self, key: StateKey) -> CradleState | None:
        """Return a state by its key, None where it is not planned."""
        return next((s for s in self.states if s.key == key), None)

    def stock(self) -> dict[str, tuple[float, ...]]:
        """Return the lengths on sale by the words of each section of the frame."""
        if self.frame is None:
            return {}
        own = {s.section: s.lengths_m for s in self.own_stock}
        sections = dict.fromkeys(m.section.words for m in self.frame.members)
        found = {words: own.get(words, self.stock_m) for words in sections}
        return {words: lengths for words, lengths in found.items() if lengths}
