"""One screw of a joint: the force that tightening gives, what it presses and stretches, and what is left under load.

Preload, torque and scatter after the short form of VDI 2230; the clamped parts as a frustum after Shigley.
"""

import numpy as np

from gantrywright.base.formula import formula
from gantrywright.base.units import Metre, Newton, NewtonMetre, NewtonPerMetre, Number, Pascal, SquareMetre
from gantrywright.theory.threads import core_diameter, pitch_diameter, stress_area

YIELD_SHARE: float = 0.9
"""Part of the yield strength that tightening may use, tension and twist together (vdi-2230)."""
WRENCH_SCATTER: float = 1.6
"""Largest over least preload of a screw tightened with a torque wrench: 1.4 to 1.8 (vdi-2230)."""
STEEL: float = 206e9
"""Elastic modulus of a screw, Pa."""


@formula("d_w = 0.95 d_k", source="iso-4762")
def bearing_diameter(*, head: Metre) -> Metre:
    """Outer diameter of the ring that the head of a socket cap screw presses on: within 3 % of what the standard prints for M3 to M24.

    Args:
        head: Diameter of the head.
    """
    return 0.95 * head


@formula("F_M = A_s 0.9 R_p0.2/sqrt(1 + 3 ((3/2)(d_2/d_0)(P/(pi d_2) + 1.155 mu_G))^2), d_0 = (d_2 + d_3)/2", source="vdi-2230")
def yield_preload(
    *, diameter: Metre, pitch: Metre, proof_strength: Pascal, thread_friction: Number, share: Number = YIELD_SHARE
) -> Newton:
    """Preload at which tension and tightening torque together use a part of the screw's yield strength.

    Args:
        diameter: Nominal.
        pitch: Of the thread.
        proof_strength: 0.2 % proof strength of the screw.
        thread_friction: Friction coefficient of the thread.
        share: Part of the proof strength that is used.

    Returns:
        Largest preload that the screw may be given.

    Source:
        [vdi-2230] permissible assembly preload.

    Example:
        >>> force = yield_preload(diameter=0.008, pitch=0.00125, proof_strength=640e6, thread_friction=0.12)
        >>> round(float(force) / 1e3, 2)
        18.63
    """
    flank = pitch_diameter(diameter=diameter, pitch=pitch)
    mean = (flank + core_diameter(diameter=diameter, pitch=pitch)) / 2
    twist = 1.5 * flank / mean * (pitch / (np.pi * flank) + 1.155 * thread_friction)
    force: Newton = stress_area(diameter=diameter, pitch=pitch) * share * proof_strength / np.sqrt(1 + 3 * np.square(twist))
    return force


@formula("M_A = F_M (0.16 P + 0.58 d_2 mu_G + mu_K (d_w + d_h)/4)", source="vdi-2230")
def tightening_torque(
    *,
    preload: Newton,
    diameter: Metre,
    pitch: Metre,
    thread_friction: Number,
    head_friction: Number,
    head_bearing: Metre,
    hole: Metre,
) -> NewtonMetre:
    """Torque that gives a screw its preload.

    Args:
        preload: That is wanted.
        diameter: Nominal.
        pitch: Of the thread.
        thread_friction: Friction coefficient of the thread.
        head_friction: Friction coefficient under the head.
        head_bearing: Outer diameter of the ring under the head.
        hole: Diameter of the hole under the head.

    Example:
        >>> same = {"thread_friction": 0.12, "head_friction": 0.12, "head_bearing": 0.01163, "hole": 0.009}
        >>> round(tightening_torque(preload=18630.0, diameter=0.008, pitch=0.00125, **same), 1)
        24.6
    """
    return preload * _arm(diameter, pitch, thread_friction, head_friction, head_bearing, hole)


@formula("F_M = M_A/(0.16 P + 0.58 d_2 mu_G + mu_K (d_w + d_h)/4)", source="vdi-2230")
def preload_of_torque(
    *,
    torque: NewtonMetre,
    diameter: Metre,
    pitch: Metre,
    thread_friction: Number,
    head_friction: Number,
    head_bearing: Metre,
    hole: Metre,
) -> Newton:
    """Preload that a torque gives.

    Args:
        torque: Of tightening.
        diameter: Nominal.
        pitch: Of the thread.
        thread_friction: Friction coefficient of the thread.
        head_friction: Friction coefficient under the head.
        head_bearing: Outer diameter of the ring under the head.
        hole: Diameter of the hole under the head.
    """
    return torque / _arm(diameter, pitch, thread_friction, head_friction, head_bearing, hole)


@formula("F_M,min = F_M,max/alpha_A", source="vdi-2230")
def least_preload(*, preload: Newton, scatter: Number) -> Newton:
    """Preload that a screw has at least after tightening.

    Args:
        preload: The most that the way of tightening may give.
        scatter: Largest over least: 1.6 with a torque wrench, 2 to 4 by feel.
    """
    return preload / scatter


@formula("sigma = F/A_s", source="definition")
def screw_stress(*, force: Newton, diameter: Metre, pitch: Metre) -> Pascal:
    """Tension of a screw.

    Args:
        force: Along it.
        diameter: Nominal.
        pitch: Of the thread.
    """
    return force / stress_area(diameter=diameter, pitch=pitch)


@formula("p = F/((pi/4)(d_w^2 - d_h^2))", source="vdi-2230")
def head_pressure(*, force: Newton, head_bearing: Metre, hole: Metre) -> Pascal:
    """Pressure under a head or washer.

    Args:
        force: Along the screw.
        head_bearing: Outer diameter of the ring that presses.
        hole: Diameter of the hole.
    """
    return force / (np.pi / 4 * (np.square(head_bearing) - np.square(hole)))


@formula("k_b = A_s E/l", source="shigley")
def screw_stiffness(*, area: SquareMetre, length: Metre, elastic_modulus: Pascal = STEEL) -> NewtonPerMetre:
    """Stiffness of a screw along itself.

    Args:
        area: Stress area, for a screw that is threaded along its grip.
        length: Grip.
        elastic_modulus: Of the screw.
    """
    return area * elastic_modulus / length


@formula("k_m = 0.5774 pi E d/(2 ln(5 (0.5774 l + 0.5 d)/(0.5774 l + 2.5 d)))", source="shigley")
def clamp_stiffness(*, diameter: Metre, length: Metre, elastic_modulus: Pascal) -> NewtonPerMetre:
    """Stiffness of the clamped parts of one material: two cones of 30 degrees that start at heads of 1.5 d.

    Args:
        diameter: Nominal, of the screw.
        length: Grip.
        elastic_modulus: Of the parts.

    Example:
        >>> round(float(clamp_stiffness(diameter=0.008, length=0.020, elastic_modulus=70e9)) / 1e6, 1)
        563.2
    """
    slope = 0.5774
    cone = 5 * (slope * length + 0.5 * diameter) / (slope * length + 2.5 * diameter)
    return slope * np.pi * elastic_modulus * diameter / (2 * np.log(cone))


@formula("C = k_b/(k_b + k_m)", source="shigley")
def load_share(*, screw: NewtonPerMetre, clamped: NewtonPerMetre) -> Number:
    """Part of an outer pull that the screw feels on top of its preload; the rest takes pressure off the joint.

    Args:
        screw: Stiffness of the screw.
        clamped: Of the clamped parts.
    """
    return screw / (screw + clamped)


@formula("F_K = F_M - (1 - C) F", source="shigley")
def residual_clamp(*, preload: Newton, pull: Newton, share: Number) -> Newton:
    """Force that still presses the faces together under an outer pull; below zero the joint gapes.

    Args:
        preload: Of the screw.
        pull: Outer, apart; negative presses.
        share: Of the pull that the screw feels.
    """
    return preload - (1 - share) * pull


@formula("F = F_M + C F_out", source="shigley")
def screw_force(*, preload: Newton, pull: Newton, share: Number) -> Newton:
    """Tension of a screw under an outer pull, as long as the joint does not gape.

    Args:
        preload: Of the screw.
        pull: Outer, apart.
        share: Of the pull that the screw feels.
    """
    return preload + share * pull


@formula("F_slip = n_faces mu n F_M,min/S", source="vdi-2230")
def slip_force(*, count: Number, preload: Newton, friction: Number, faces: Number = 1.0, safety: Number = 1.0) -> Newton:
    """Sideways force that a group of screws holds by friction.

    Args:
        count: Screws.
        preload: Least, of one.
        friction: Of the faces.
        faces: How many faces would have to slide.
        safety: Divisor.

    Example:
        >>> round(slip_force(count=4, preload=17e3 / 1.6, friction=0.15), 3)
        6375.0
    """
    return faces * friction * count * preload / safety


def _arm(diameter: Metre, pitch: Metre, thread: Number, head: Number, bearing: Metre, hole: Metre) -> Metre:
    """Torque over preload."""
    return 0.16 * pitch + 0.58 * pitch_diameter(diameter=diameter, pitch=pitch) * thread + head * (bearing + hole) / 4
