"""What a deed of a draft is done to: the joints, pieces and parts meant, and what stays words."""

from __future__ import annotations

from attrs import evolve

from torquewright.notation.tightening import read_tightening
from torquewright.reading.groups import SEALANTS
from torquewright.reading.kept import ReadAction
from torquewright.reading.meaning import Meaning
from torquewright.reading.objects import Roster
from torquewright.reading.questions import laid_aside
from torquewright.reading.toolbox import Toolbox
from torquewright.records.parts import Fastener
from torquewright.records.steps import Action, WasherUse
from torquewright.records.tightening import Tightening
from torquewright.sentences.deeds import HANDLED, TIGHTENING, Deed
from torquewright.sentences.sentence import Sentence
from torquewright.sentences.staging import readings_of, staged
from torquewright.sentences.things import Thing

_CLOSING = frozenset({"hand_start", "seat", "tighten", "tighten_angle"})


class Aiming(Meaning):
    """Finds the target of each deed, and its figure where that stands elsewhere."""

    def __init__(self, roster: Roster, toolbox: Toolbox) -> None:
        super().__init__(roster)
        self.toolbox = toolbox
        self.last_to: dict[str, Action] = {}  # the last tightening of each joint
        self.washer_of: dict[str, WasherUse | None] = {}  # what each joint was last fitted with
        self.steps_done: dict[str, tuple[Action, ...]] = {}  # by label, the latest section's last
        self.closing: dict[str, list[Action]] = {}  # how each joint was closed since it was last opened

    def targets(self, deed: Deed) -> list[str]:
        thing = deed.thing
        if thing is None:
            if deed.verb not in HANDLED:
                return []
            kinds = ("fastener",) if deed.verb in TIGHTENING else ("fastener", "seal")
            for start, ids in reversed(self.spoken):
                held = tuple(key for key in ids if self.roster.kind(key) in kinds)
                if (held and start < max(deed.start, deed.clause.start, 1)) or (held and deed.fronted):
                    return list(held)
            if deed.verb in TIGHTENING or deed.verb in ("lock", "lubricate", "seal", "replace"):
                return list(self.roster.last(plural=None, kinds=kinds))
            return []
        if deed.verb not in HANDLED:
            ids = self.ids.get(id(thing), ())
            return (
                [key for key in ids if self.roster.kind(key) in ("fastener", "seal", "fluid")]
                if not thing.pronoun
                else []
            )
        if deed.verb == "position" and laid_aside(deed):
            return []
        ids = self.ids.get(id(thing)) or ()
        if id(thing) not in self.ids:
            ids = self.meant(thing, deed)
        if deed.verb == "lock" and not any(self.is_joint(key.partition("|")[0]) for key in ids):
            if thing.head in ("collar", "jack", "pawl", "saddle", "trestle", "stand"):
                return []  # the collar of a jack: the load is locked, no joint
            return self.joint_beside(deed.clause, thing)[:1]
        if deed.verb == "lock" and ids and "|" in ids[0]:
            return [ids[0].partition("|")[0]]
        if deed.lemma == "go" and deed.torques and not any(self.is_joint(key) for key in ids):
            return list(self.roster.last(plural=None, kinds=("fastener",)))  # "go round each head crosswise, to 8 N·m"
        if not ids and thing.owner is not None and thing.kind in ("feature", "measure", "running", "torque-label"):
            ids = self.ids.get(id(thing.owner), ())
        if thing.kind == "feature" and not ids:
            return self.feature_of(deed, thing)
        return list(ids)

    def aimed(self, base: Action, target: str, deed: Deed, count: int | None, several: int) -> Action:
        if not target:
            words = deed.thing.text if deed.thing is not None and not deed.thing.pronoun else ""
            verb = base.verb
            lent = [name for name in self.temporary if name.split()[-1] == words]
            if len(lent) == 1 and verb in ("remove", "take_out"):
                words, verb = lent[0], "take_out"  # "pull the pin out": the locking pin
            if deed.thing is not None and " ".join((*deed.thing.mods[-1:], deed.thing.head)) in self.temporary:
                verb = {
                    "install": "insert",
                    "remove": "take_out",
                    "seat": "insert",
                    "hand_start": "insert",
                    "tighten": "insert",
                }.get(verb, verb)
            return evolve(base, verb=verb, what=words, count=count)
        if target.startswith("~"):
            return evolve(base, what=target.lstrip("~"), count=count)
        if "|" in target:
            key, _, piece = target.partition("|")
            return evolve(base, what=piece, of=key, count=count if several == 1 else None)
        group = self.roster.by_id.get(target)
        if several > 1 and group is not None:
            count = group.count if count is not None else None
        bead = group is not None and group.kind == "seal" and bool(group.words & SEALANTS)
        if bead and base.verb == "seal":
            return evolve(base, verb="install", what=target, count=None, state="new")  # a bead of sealant
        return evolve(base, what=target, count=count)

    def shared(self, deed: Deed, targets: list[str]) -> list[ReadAction]:
        held = readings_of(deed)
        made = []
        thing = deed.thing
        assert thing is not None
        for place, part in enumerate(thing.parts):
            to = held[min(place, len(held) - 1)] if held else None
            key = targets[place] if len(targets) == len(thing.parts) else (targets[0] if targets else "")
            action = Action(
                deed.verb,
                key or f"{part} {thing.head}",
                mode=deed.mode,  # type: ignore[arg-type]
                to=to,
                tool=self.toolbox.name(deed.tool) if deed.tool else "",
                count=1 if len(targets) != len(thing.parts) and thing.count == len(thing.parts) else None,
            )
            made.append(ReadAction(action, deed, None))
        return made

    # ---- done as another was ----------------------------------------------------------------------------------------

    def keep_closing(self, action: Action) -> None:
        """Remember how a joint is closed, for "in the same way as"."""
        piece = action.of and "washer" in action.what and action.verb in ("install", "replace")
        if piece and action.mode == "do":
            self.washer_of[action.of] = WasherUse(action.count or 1, "new" if action.state == "new" else "", "")
        if action.mode != "do" or not self.is_joint(action.what) or action.of:
            return
        if action.washer is not None:
            self.washer_of[action.what] = action.washer
        if action.verb in ("remove", "loosen", "disconnect", "discard"):
            self.closing.pop(action.what, None)
        elif action.verb in _CLOSING:
            self.closing.setdefault(action.what, []).append(action)

    def in_the_same_way(self, deed: Deed, targets: list[str]) -> list[Action]:
        """ "Fit the fill plug in the same way as the drain plug": started and tightened as that one was."""
        clause = deed.clause
        alike = any(said.startswith(("in the same", "the same way")) or said == "likewise" for said in clause.said)
        if deed.verb not in ("install", "reuse", "replace") or not alike or clause.torques:
            return []
        models = [held for text, held in clause.preps if isinstance(held, Thing) and text in ("as", "like")]
        known = [key for held in models for key in self.ids.get(id(held), ()) if key in self.closing]
        done = self.closing[known[0]] if known else []
        joints = [key for key in targets if self.is_joint(key)]
        return [evolve(action, what=key, count=None, washer=None) for key in joints for action in done]

    # ---- figures that stand elsewhere -----------------------------------------------------------------------------

    def figure_of_another(self, deed: Deed) -> Tightening | None:
        """ "to the figure of the drain plug", "to the same torque as the drain plug": what that one was pulled to."""
        for text, held in deed.clause.preps:
            step = isinstance(held, Thing) and held.head == "step" and bool(held.labels)
            if step and isinstance(held, Thing) and text in ("from", "of", "in", "as", "to"):
                done = self.steps_done.get(held.labels[0], ())
                told = [action.to for action in done if action.verb == "tighten" and action.to]
                if told and all(to == told[0] for to in told):
                    return told[0]  # "to the torque from step 8"
            if not isinstance(held, Thing) or text not in ("to", "at", "with", "as", "like"):
                continue
            meant = held.owner if held.kind in ("measure", "torque-label") else held if text in ("as", "like") else None
            for key in self.ids.get(id(meant), ()) if meant is not None else ():
                if key in self.last_to:
                    return self.last_to[key].to
                record = self.roster.by_id[key].record if key in self.roster.by_id else None
                if isinstance(record, Fastener) and record.tightening is not None:
                    return record.tightening
        return None

    def said_before(self, to: Tightening, sentence: Sentence) -> Tightening | None:
        """ "Give it the same 43": the figure of that number that was last told, with its unit."""
        number = to.text.rstrip(". ")
        if f"same {number}" not in sentence.text.lower():
            return None
        for action in reversed(self.last_to.values()):
            torque = action.to.torque if action.to is not None else None
            if action.to is not None and torque is not None and number in action.to.text.split():
                return read_tightening(f"{number} {torque.unit}")
        return None

    def from_table(
        self, deed: Deed, to: Tightening | None, targets: list[str], sentence: Sentence
    ) -> Tightening | None:
        """ "as the table says", "first to 8 N·m, then as in the table": the value stands in the record."""
        table = next(
            (thing for thing in sentence.things if thing.head == "table" or {"table", "tabulated"} & set(thing.mods)),
            None,
        )
        if table is None:
            table = next((thing for thing in sentence.things if _stated_elsewhere(thing, sentence)), None)
        if table is None or not targets:
            return to
        record = self.roster.by_id[targets[0]].record if targets[0] in self.roster.by_id else None
        value = record.tightening if isinstance(record, Fastener) else None
        if value is None:
            return to
        if to is None:
            return value
        return staged([to, value]) if deed.torques and table.start > deed.torques[-1].end else to


def _stated_elsewhere(thing: Thing, sentence: Sentence) -> bool:
    """Whether a figure stands in a list of the document: "the value above", "the figure given at the top"."""
    if thing.head not in ("value", "figure", "torque", "setting"):
        return False
    behind = next((word for word in sentence.words if word.start >= thing.end), None)
    return bool({"above", "below", "listed", "given", "tabulated", "final", "full"} & set(thing.mods)) or (
        behind is not None and behind.text in ("above", "below", "overleaf")
    )
