"""A gear unit hung on the shaft and held by a torque arm.

The drive is a body of its own. Its weight, the force of the arm and, where a belt drives its input,
the pull of that belt act on it from outside; all of them pass through the hollow shaft into the
machine shaft, together with the torque. The arm only pushes or pulls along its own line.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfbore.mechanics.forces import sum_of
from halfbore.mechanics.free_body import ORIGIN, Wrench, resultant
from halfbore.mechanics.given import a_sense, positive, refuse
from halfbore.mechanics.power import torque
from halfbore.sources import derived
from halfbore.working import Number, clause

_BODY = derived("balance of the drive as a free body")


@clause(_BODY, "30000*power*efficiency/(pi*speed)")
def output_torque(power: Number, speed: Number, efficiency: Number = 1.0) -> Number:
    """Torque that the drive puts on the machine shaft.

    Derived: power = torque times angular speed
    power: input power [W]; speed: output speed [r/min]; efficiency: of the gear unit, above 0 up to 1.
    Returns the torque [N·mm]. Raises InputError for torque without speed.
    """
    bad = np.less_equal(efficiency, 0) | np.greater(efficiency, 1)
    refuse(bad, "above 0 up to 1", efficiency=efficiency)
    return torque(power * efficiency, speed)


@clause(_BODY, "torque/reach")
def arm_force(torque: Number, reach: Number) -> Number:
    """Force in the torque arm when nothing else turns the drive about the shaft.

    Derived: balance of the drive as a free body
    torque: output torque [N·mm]; reach: distance of the arm's line from the shaft centre [mm].
    Returns the force [N]. Raises InputError for a reach that is not above zero.
    """
    positive(reach=reach)
    return torque / reach


@clause(_BODY, "arm_y*sin(arm_angle) - arm_z*cos(arm_angle)")
def arm_lever(arm_y: Number, arm_z: Number, arm_angle: Number) -> Number:
    """Lever of the arm's line about the shaft, with its sign.

    Derived: balance of the drive as a free body
    arm_y, arm_z: where the arm holds the drive, from the shaft centre [mm].
    arm_angle: direction in which the arm's force is counted positive, from +y to z [rad].
    Returns the lever [mm], positive when that force turns the drive from y to z.
    """
    return arm_y * np.sin(arm_angle) - arm_z * np.cos(arm_angle)


@clause(_BODY, "(output_torque - other_moment)/lever")
def arm_reaction(output_torque: Number, other_moment: Number, lever: Number) -> Number:
    """Force of the arm on the drive along the arm's line.

    Derived: balance of the drive as a free body
    output_torque: torque of the drive on the machine shaft, positive from y to z [N·mm].
    other_moment: moment of weight, input pull and input torque about the shaft [N·mm].
    lever: from arm_lever [mm].
    Returns the force [N], negative when it acts against the direction of the lever's angle.
    Raises InputError for a line through the shaft centre, which holds no torque.
    """
    refuse(np.equal(lever, 0), "an arm whose line passes beside the shaft centre", lever=lever)
    return (output_torque - other_moment) / lever


@clause(_BODY, "(torque_sense*reach*sin(arm_angle), -torque_sense*reach*cos(arm_angle))")
def arm_point(reach: Number, arm_angle: Number, torque_sense: Number) -> NDArray[np.float64]:
    """Point of the arm's line that is nearest the shaft centre, when only its reach is known.

    Derived: balance of the drive as a free body
    reach: distance of the arm's line from the shaft centre [mm]; arm_angle: direction of the arm's
    force on the drive, from +y to z [rad]; torque_sense: 1 when the drive turns the shaft from y to z.
    Returns (y, z) from the shaft centre [mm]: the side on which that force balances the drive.
    """
    a_sense(torque_sense=torque_sense)
    return sum_of((torque_sense * reach, arm_angle - np.pi / 2))


@clause(
    _BODY,
    "(arm*cos(arm_angle) + input_pull*cos(input_angle) - weight,"
    " arm*sin(arm_angle) + input_pull*sin(input_angle))",
)
def force_on_shaft(
    weight: Number,
    arm: Number,
    arm_angle: Number,
    input_pull: Number = 0.0,
    input_angle: Number = 0.0,
) -> NDArray[np.float64]:
    """Force of the hollow shaft on the machine shaft.

    Derived: balance of the drive as a free body
    weight: weight of all that hangs on the shaft [N]; arm: force of the arm on the drive [N].
    arm_angle: direction of that force, from +y to z [rad]; input_pull: pull of a belt on the input
    sheave [N]; input_angle: its direction [rad].
    Returns (y, z) [N].
    """
    return sum_of((weight, np.pi), (arm, arm_angle), (input_pull, input_angle))


@clause(
    _BODY,
    "(-arm_offset*arm*sin(arm_angle) - input_offset*input_pull*sin(input_angle),"
    " arm_offset*arm*cos(arm_angle) + input_offset*input_pull*cos(input_angle) - weight_offset*weight)",
)
def couple_on_shaft(
    weight: Number,
    weight_offset: Number,
    arm: Number,
    arm_angle: Number,
    arm_offset: Number,
    input_pull: Number = 0.0,
    input_angle: Number = 0.0,
    input_offset: Number = 0.0,
) -> NDArray[np.float64]:
    """Couple of the hollow shaft on the machine shaft, of forces beside the middle of the hollow shaft.

    Derived: balance of the drive as a free body
    weight, arm, arm_angle, input_pull, input_angle: as in force_on_shaft.
    weight_offset, arm_offset, input_offset: planes of the three forces along +x from the middle of
    the hollow shaft [mm].
    Returns the moments about (+y, +z) [N·mm].
    """
    return sum_of(  # a force at +x turns the shaft about the axis a quarter turn ahead of it
        (weight_offset * weight, np.pi * 3 / 2),
        (arm_offset * arm, arm_angle + np.pi / 2),
        (input_offset * input_pull, input_angle + np.pi / 2),
    )


def balance_of_shaft(
    points: ArrayLike, forces: ArrayLike, drive_x: float, drive: Wrench, about: ArrayLike = ORIGIN
) -> Wrench:
    """Residual of the machine shaft alone: its loads, its reactions and what the hollow shaft gives it.

    Derived: balance of the shaft as a free body
    points, forces: loads and reactions on the shaft, rows of (x, y, z) [mm], [N].
    drive_x: middle of the hollow shaft [mm]; drive: its force [N] and couple with torque [N·mm].
    about: point of the moment sum [mm].
    Returns the residual force [N] and moment [N·mm], zero in balance.
    """
    at = np.vstack([np.asarray(points, np.float64), [[drive_x, 0.0, 0.0]]])
    return resultant(at, np.vstack([np.asarray(forces, np.float64), [drive.force]]), about, drive.moment)


def balance_of_all(
    points: ArrayLike,
    forces: ArrayLike,
    drive_points: ArrayLike,
    drive_forces: ArrayLike,
    about: ArrayLike = ORIGIN,
) -> Wrench:
    """Residual of shaft, drive and arm as one body, from the outside forces at their own places.

    Derived: balance of shaft and drive as one free body
    points, forces: loads and reactions on the shaft, rows of (x, y, z) [mm], [N].
    drive_points, drive_forces: weight, arm and input pull on the drive where they act [mm], [N].
    about: point of the moment sum [mm].
    Returns the residual force [N] and moment [N·mm], zero in balance; what passes between drive and
    shaft does not enter it.
    """
    return resultant(np.vstack([points, drive_points]), np.vstack([forces, drive_forces]), about)
