"""Plants statements that say the wrong thing or nothing: a second unit that disagrees, no figure."""

from __future__ import annotations

from collections.abc import Iterator

from torquewright.base.units import UNITS
from torquewright.bench import play
from torquewright.notation.agreement import agree
from torquewright.records import Catalogue, Procedure, Stage, Tightening
from torquewright.rules.demands import figure, targets
from torquewright.rules.editing import actions, change, joint_of
from torquewright.rules.fits import fit, printed
from torquewright.rules.registry import Planted, planter
from torquewright.rules.terminals import marked_terminal


@planter("dual-unit-disagrees")
def dual_unit_disagrees(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Puts a second unit beside a figure, or alters the one that is there, so that the two disagree."""
    for step, number, action in actions(procedure, "tighten", "retighten"):
        to, joint = action.to, joint_of(action, catalogue)
        first = to.torque if to is not None and len(to.stages) == 1 else None
        if joint is None or to is None or first is None or first.unit not in UNITS or first.target is None:
            continue
        pounds = "lbf·in" if first.target < 20 else "lbf·ft"
        unit = to.also[0].unit if to.also else pounds if first.unit == "N·m" else "N·m"
        for share in (0.87, 1.15, 0.75):
            other = figure(first.target * share, unit, 0 if first.target / UNITS[unit].factor >= 9 else 1)
            if not agree(first, other):
                wrong = Tightening(f"{printed(first)} ({printed(other)})", "dual_unit", to.stages, (other,))
                spoiled = change(procedure, step, number, to=wrong)
                yield Planted(spoiled, catalogue, step, joint.id, f"{printed(other)} beside {printed(first)}")
                break


@planter("final-tighten-without-value")
def final_tighten_without_value(procedure: Procedure, catalogue: Catalogue) -> Iterator[Planted]:
    """Takes the figure out of the last pull on a joint."""
    for target in targets(play(procedure, catalogue)):
        pull, sequence = target.pull, target.sequence
        if not target.last or sequence.angles(len(sequence.parts) - 1) or marked_terminal(sequence.track.fastener):
            continue
        if target.before is not None and fit(target.before, target.wanted) == "fits":
            continue  # the figure of the pull before it would be taken over
        event = pull.event
        spoiled = change(procedure, event.step, event.number, to=None)
        yield Planted(spoiled, catalogue, event.step, target.joint, f"no figure for {printed(target.torque)}")
        vague = Tightening("securely", "hand_tight", (Stage(),), doubt="it states no figure and depends on the hand")
        spoiled = change(procedure, event.step, event.number, to=vague)
        yield Planted(spoiled, catalogue, event.step, target.joint, f'"securely" for {printed(target.torque)}')
