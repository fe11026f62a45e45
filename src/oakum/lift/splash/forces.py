"""The forces of a load case in a sea by the simplified method: slamming, drag, mass, varying buoyancy.

Seas run along the first axis (k, 1), draws of the weight along the last (n,); everything broadcasts.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.gravity import G_M_S2
from oakum.ground.waves import decay, wave_number_rad_m
from oakum.lift.splash.body import SplashBody
from oakum.lift.splash.cases import LoadCase
from oakum.lift.splash.errors import not_negative, positive
from oakum.lift.splash.tip import TipAmplitudes
from oakum.lift.weights.draining import steady_head_m

Array = NDArray[np.float64]

WAVE_OVER_HS = 0.9
"""Amplitude of the greatest wave over Hs: half of 1.8 Hs."""

_NO_PULL = 1e6


@dataclass(frozen=True, slots=True)
class Water:
    """The water and the gravity the forces are computed with; `depth_m` None is deep water."""

    density_kg_m3: float
    depth_m: float | None = None
    g_m_s2: float = G_M_S2

    def __post_init__(self) -> None:
        positive("the density of the water", self.density_kg_m3, "kg/m³")
        if self.depth_m is not None:
            positive("the depth of the water", self.depth_m, "m")


@dataclass(frozen=True, slots=True, eq=False)
class WaveMotion:
    """Greatest vertical motion of the water: amplitude at the surface, and speed and acceleration by depth."""

    amplitude_m: Array
    omega_rad_s: float
    k_rad_m: float
    depth_m: float | None

    def share(self, below_m: ArrayLike) -> Array:
        """Return the motion at depths (p,) over that at the surface: exp(-k d); in water of a depth by the sinh law."""
        return np.asarray(decay(self.k_rad_m, below_m, self.depth_m))

    def speed_m_s(self, below_m: ArrayLike) -> Array:
        """Return v_w = amplitude omega times `share`; depths (p,) along the last axis."""
        return np.asarray(self.amplitude_m * self.omega_rad_s * self.share(below_m))

    def acceleration_m_s2(self, below_m: ArrayLike) -> Array:
        """Return a_w = v_w omega."""
        return np.asarray(self.speed_m_s(below_m) * self.omega_rad_s)


def wave_motion(hs_m: Array, tz_s: float, water: Water) -> WaveMotion:
    """Return the motion of the greatest wave, amplitude 0.9 Hs and period Tz."""
    positive("the mean period Tz", tz_s, "s")
    omega = 2.0 * pi / tz_s
    k = float(wave_number_rad_m(omega, water.depth_m, water.g_m_s2))
    return WaveMotion(np.asarray(WAVE_OVER_HS * hs_m), omega, k, water.depth_m)


@dataclass(frozen=True, slots=True, eq=False)
class CaseForces:
    """Forces of one load case, N. `least_n` with hollows drained to the surface, `most_n` with full ones.

    `hydro_n` is with the full, `hydro_drained_n` with the drained hollows; `relative_m_s` the speed against
    the water that drags, `slam_m_s` the one that slams.
    """

    most_n: Array
    least_n: Array
    drag_n: Array
    slam_n: Array
    mass_n: Array
    buoyancy_n: Array
    hydro_n: Array
    hydro_drained_n: Array
    relative_m_s: Array
    slam_m_s: Array
    moving_kg: Array

    @property
    def greatest_n(self) -> Array:
        """Static pull and hydrodynamic force together."""
        return np.asarray(np.maximum(self.most_n + self.hydro_n, self.least_n + self.hydro_drained_n))

    @property
    def slack_ratio(self) -> Array:
        """Hydrodynamic force over the least static pull; a million where nothing pulls, as with a body that
        floats."""
        with np.errstate(divide="ignore", invalid="ignore"):
            full = np.where(self.most_n > 0.0, self.hydro_n / self.most_n, _NO_PULL)
            drained = np.where(self.least_n > 0.0, self.hydro_drained_n / self.least_n, _NO_PULL)
        return np.asarray(np.minimum(np.maximum(full, drained), _NO_PULL))


def relative_speed_m_s(hoist_m_s: float, tip_m_s: Array, wave_m_s: Array) -> Array:
    """Return v = v_c + sqrt(v_ct^2 + v_w^2): hoist, tip and water against each other."""
    return np.asarray(hoist_m_s + np.hypot(tip_m_s, wave_m_s))


def slam_n(density_kg_m3: float, slamming_m2: float, speed_m_s: Array) -> Array:
    """Return 1/2 rho C_s A_s v_s^2."""
    return np.asarray(0.5 * density_kg_m3 * slamming_m2 * np.square(speed_m_s))


def hollow_swing_m3(case: LoadCase, body: SplashBody, swing_m: Array, speed_m_s: Array, g_m_s2: float) -> Array:
    """Return how much hollows displace while the surface swings up faster than water runs in, m3.

    Plan area times the lesser of the swing above the floor and the head that drives water in at the speed of
    the swing, (v A_t / (C_d A_o))^2 / 2 g; nothing once the surface stands over the rim. A tight crate that
    has drained floats up on the next wave.
    """
    total: Array = np.zeros(np.shape(swing_m))
    for hollow in body.hollows:
        if case.water_line_m > hollow.floor_m + hollow.height_m:
            continue
        over = np.maximum(swing_m - max(hollow.floor_m - case.water_line_m, 0.0), 0.0)
        head = steady_head_m(speed_m_s, hollow.plan_m2, hollow.opening_m2, hollow.discharge, g_m_s2)
        over = np.minimum(np.minimum(over, hollow.height_m), np.nan_to_num(head, nan=0.0, posinf=np.inf))
        total = total + hollow.plan_m2 * over
    return total


def _wet(case: LoadCase) -> tuple[Array, Array, Array, Array, Array]:
    """Return share, depth, volume, added mass over density and drag area of the parts under water, (p,) each."""
    rows = [(w.share, w.below_m, w.part.volume_m3, w.part.added_m3, w.part.drag_m2) for w in case.wet]
    share, below, volume, added, drag = np.array(rows, dtype=np.float64).reshape(-1, 5).T
    return share, below, volume, added, drag


def case_forces(
    case: LoadCase,
    body: SplashBody,
    tip: TipAmplitudes,
    wave: WaveMotion,
    water: Water,
    hoist_m_s: float,
) -> CaseForces:
    """Return the forces of a case; tip and wave are (k, 1) or single, the body's draws (n,).

    Drag and mass force are summed over the parts under water, each with the water motion at the middle of
    what is under. F_rho = rho g A_w sqrt(zeta^2 + eta^2), with hollows as far as they cannot fill;
    F_M = sqrt(((M+A) a_ct)^2 + ((rho V+A) a_w)^2); F_hyd = sqrt((F_D + F_slam)^2 + (F_M - F_rho)^2).
    DNV-RP-H103, 4.3 and 4.4 (memory, verify).
    """
    not_negative("the hoist speed", hoist_m_s, "m/s")
    rho, g = water.density_kg_m3, water.g_m_s2
    held_below, held_above = (rho * v for v in case.held_m3(body))
    share, below, volumes, addeds, drags = _wet(case)
    volume, added = float(share @ volumes) * body.volume_share, rho * float(share @ addeds)
    speeds = relative_speed_m_s(hoist_m_s, tip.speed_m_s, wave.speed_m_s(below))  # (k, parts)
    still = relative_speed_m_s(hoist_m_s, tip.speed_m_s, np.zeros_like(wave.amplitude_m))
    fastest = np.maximum(still, speeds.max(axis=-1, initial=0.0).reshape(still.shape))
    drag = (0.5 * rho * (np.square(speeds) @ (share * drags))).reshape(still.shape)
    felt = share * wave.share(below)
    # Water in hollows below the surface is pushed by the wave as if it were the body's.
    hollows = held_below * float(wave.share(0.5 * case.water_line_m))
    carried = rho * (float(felt @ volumes) * body.volume_share + float(felt @ addeds)) + hollows
    pushed = carried * wave.acceleration_m_s2(0.0)
    slam_speed = relative_speed_m_s(hoist_m_s, tip.speed_m_s, wave.speed_m_s(0.0))
    slam = slam_n(rho, case.slamming_m2, slam_speed)
    swing = np.hypot(wave.amplitude_m, tip.motion_m)
    rising = np.hypot(wave.speed_m_s(0.0), tip.speed_m_s)
    buoyancy = rho * g * (case.waterplane_m2 * swing + hollow_swing_m3(case, body, swing, rising, g))
    moving = body.mass_kg + added + held_below
    full_moving = moving + held_above
    mass = np.hypot(full_moving * tip.acceleration_m_s2, pushed)
    mass_drained = np.hypot(moving * tip.acceleration_m_s2, pushed)
    static = g * (body.mass_kg - rho * volume)
    return CaseForces(
        most_n=static + g * held_above,
        least_n=static,
        drag_n=drag,
        slam_n=slam,
        mass_n=mass,
        buoyancy_n=buoyancy,
        hydro_n=np.hypot(drag + slam, mass - buoyancy),
        hydro_drained_n=np.hypot(drag + slam, mass_drained - buoyancy),
        relative_m_s=fastest,
        slam_m_s=slam_speed,
        moving_kg=np.asarray(full_moving),
    )
