"""A source that draws more than its preamp gives."""

from __future__ import annotations

from collections.abc import Iterator

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.paths import Paths
from rigdsl.rig import Phantom, Port, Rig, Source, shown
from rigdsl_power.formulae import at_microphone_v, supply_of
from rigdsl_power.lines import needy

__all__ = ["phantom_overload"]

ROUNDING_A = 1e-9


@rule("phantom-overload", Level.WARNING, NoOptions, edition=2)
def phantom_overload(rig: Rig, paths: Paths, options: NoOptions) -> Iterator[Finding]:
    """A source draws more phantom current than the preamp gives.

    The source says `current 12 mA` (4 mA where it does not), the input `phantom 48 V 10 mA`. Where several preamps
    can feed it, the strongest of those that are on counts.

    ## On the night
    The voltage at the microphone breaks down: it distorts early, hums, or comes and goes.

    ## A rig that breaks it
    ```rig
    rig "A hungry microphone" { rate 48 kHz }
    model desk8 { kind console; channels ch 1-8; inputs local 1-8 { preamp; phantom 48 V 10 mA }; pass local -> ch }
    zone stage
    box DESK is desk8 in stage
    source vox "Vocal" condenser in stage to DESK 1 via xlr 6 m { current 12 mA }
    ```

    ## A rig that keeps it
    ```rig
    rig "An ordinary microphone" { rate 48 kHz }
    model desk8 { kind console; channels ch 1-8; inputs local 1-8 { preamp; phantom 48 V 10 mA }; pass local -> ch }
    zone stage
    box DESK is desk8 in stage
    source vox "Vocal" condenser in stage to DESK 1 via xlr 6 m { current 4 mA }
    ```

    ## Figures
    P48 gives a microphone at most 10 mA, SP48 22 mA, P12 15 mA, P12L 4 mA (IEC 61938:2018, as a magazine's glossary
    reports it); a microphone draws 4 mA at most as a rule (same source). Left at the microphone is Vs - I R / 2, R
    being one of two matched feed resistors: 6.8 kohm for P48, 1.2 kohm for P24, 680 ohm for P12. That makes 34.4 V at
    4 mA and 14 V at 10 mA; the most power is V^2 / (4 R / 2), 169 mW for P48.
    """
    for source, legs in needy(rig, paths):
        for leg in legs:
            fed = [(phantom, port) for port in paths.given_by(leg) if (phantom := rig.group(port).phantom)]
            if not fed:
                continue
            phantom, port = max(fed, key=lambda item: item[0].current_a)
            if source.current_a > phantom.current_a + ROUNDING_A:
                yield _overload(rig, source, source.ports[leg.index], port, phantom)
                break


def _overload(rig: Rig, source: Source, plug: Port, preamp: Port, phantom: Phantom) -> Finding:
    gives = f"{shown(phantom.current_a, 1e-3)} mA at {shown(phantom.voltage_v)} V"
    return Finding(
        place=source.place,
        subject=source.name,
        message=f"`{source.name}` draws {shown(source.current_a, 1e-3)} mA, and `{preamp}` gives {gives}",
        consequence=f"{_left(source.current_a, phantom)}it distorts, or comes and goes",
        help="use an input that gives more, a supply of its own, or another microphone",
        related=(Related(rig.group(preamp).place, f"`{preamp.box}.{preamp.group}` gives {gives}"),),
        ports=tuple(str(port) for port in dict.fromkeys((plug, preamp))),
        box=plug.box,
    )


def _left(current_a: float, phantom: Phantom) -> str:
    """What the standard's feed resistors would leave of the voltage, where it is one of the standard's."""
    supply = supply_of(phantom.voltage_v, phantom.current_a)
    if supply is None:
        return ""
    left_v = at_microphone_v(phantom.voltage_v, supply.feed_ohm, current_a)
    if left_v <= 0:
        return "its feed resistors leave no voltage at all: "
    return f"its feed resistors leave {shown(left_v)} V at most: "
