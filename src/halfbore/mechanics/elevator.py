"""Bucket elevator: strand tensions and what head and boot shaft carry."""

from __future__ import annotations

from halfbore.mechanics.forces import GRAVITY
from halfbore.mechanics.given import positive
from halfbore.sources import derived, practice
from halfbore.working import Number, clause

_BUILD_UP = practice("strand tensions of a bucket elevator", "from memory")


@clause(derived("mass of belt and buckets"), "belt + 1000*bucket/pitch")
def run_per_metre(belt: Number, bucket: Number, pitch: Number) -> Number:
    """Mass of each metre of belt or chain with its buckets.

    Derived: mass of belt and buckets
    belt: belt or chain [kg/m]; bucket: one empty bucket [kg]; pitch: distance of buckets [mm].
    Returns the mass [kg/m]. Raises InputError for a pitch that is not above zero.
    """
    positive(pitch=pitch)
    return belt + 1000 * bucket / pitch


@clause(derived("mass in the buckets"), "1000*fill*contents/pitch")
def load_per_metre(contents: Number, fill: Number, pitch: Number) -> Number:
    """Mass of the load on each metre of the rising run.

    Derived: mass in the buckets
    contents: one full bucket holds [kg]; fill: part of it that is used; pitch: distance of buckets [mm].
    Returns the mass [kg/m]. Raises InputError for a pitch that is not above zero.
    """
    positive(pitch=pitch)
    return 1000 * fill * contents / pitch


@clause(derived("mass that passes = mass per metre times speed"), "3.6*load*belt_speed")
def capacity(load: Number, belt_speed: Number) -> Number:
    """Mass that an elevator lifts.

    Derived: mass that passes = mass per metre times speed
    load: load [kg/m]; belt_speed: belt speed [m/s].
    Returns the capacity [t/h].
    """
    return 3.6 * load * belt_speed


@clause(_BUILD_UP, "boot_diameter*diameters")
def digging_lift(boot_diameter: Number, diameters: Number) -> Number:
    """Lift that stands for the pull of digging in the boot.

    Common practice, no source
    boot_diameter: boot drum [mm]; diameters: 5 free-flowing and fed above the shaft, 15 lumpy and
    dug from the boot, a choice to be shown.
    Returns the equivalent lift [mm].
    """
    return boot_diameter * diameters


@clause(_BUILD_UP, "load*(lift + digging)/1000*gravity")
def lifted_pull(load: Number, lift: Number, digging: Number, gravity: Number = GRAVITY) -> Number:
    """Pull of what is lifted and dug on the rising run, over the weight of belt and buckets.

    Common practice, no source
    load: load [kg/m]; lift: head above boot [mm]; digging: equivalent lift of digging [mm].
    gravity: acceleration of free fall [m/s²].
    Returns the pull [N].
    """
    return load * (lift + digging) / 1000 * gravity


@clause(_BUILD_UP, "((run + load)*lift + load*digging)/1000*gravity + take_up/2")
def tight_strand(
    run: Number,
    load: Number,
    lift: Number,
    digging: Number,
    take_up: Number = 0.0,
    gravity: Number = GRAVITY,
) -> Number:
    """Tension of the rising run at the head.

    Common practice, no source
    run: belt and buckets [kg/m]; load: load [kg/m]; lift: head above boot [mm].
    digging: equivalent lift of digging [mm]; take_up: force of the take-up at the boot [N];
    gravity: acceleration of free fall [m/s²].
    Returns the tension T_1 [N].
    """
    return ((run + load) * lift + load * digging) / 1000 * gravity + take_up / 2


@clause(_BUILD_UP, "run*lift/1000*gravity + take_up/2")
def slack_strand(run: Number, lift: Number, take_up: Number = 0.0, gravity: Number = GRAVITY) -> Number:
    """Tension of the falling run at the head.

    Common practice, no source
    run: belt and buckets [kg/m]; lift: head above boot [mm]; take_up: force of the take-up [N];
    gravity: acceleration of free fall [m/s²].
    Returns the tension T_2 [N].
    """
    return run * lift / 1000 * gravity + take_up / 2


@clause(derived("both runs hang straight down"), "tight + slack + drum_weight")
def head_load(tight: Number, slack: Number, drum_weight: Number = 0.0) -> Number:
    """Load on the head shaft, straight down.

    Derived: both runs hang straight down
    tight, slack: strand tensions [N]; drum_weight: weight of the drum [N].
    Returns the load [N].
    """
    return tight + slack + drum_weight


@clause(derived("power = effective pull times speed"), "(tight - slack)*belt_speed")
def power(tight: Number, slack: Number, belt_speed: Number) -> Number:
    """Power at the head drum.

    Derived: power = effective pull times speed
    tight, slack: strand tensions [N]; belt_speed: belt speed [m/s].
    Returns the power [W].
    """
    return (tight - slack) * belt_speed
