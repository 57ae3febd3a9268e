"""Deeds told by pointing to others: "same deal", "another six", "repeat steps 2 to 7 for the far end"."""

from __future__ import annotations

from attrs import evolve

from torquewright.reading.aiming import Aiming
from torquewright.reading.kept import ReadAction
from torquewright.reading.objects import Roster
from torquewright.reading.repeating import done_again, other_parts
from torquewright.reading.toolbox import Toolbox
from torquewright.records.steps import Action
from torquewright.sentences.deeds import Deed
from torquewright.sentences.things import Thing


class Again(Aiming):
    """Does again what the last sentence, another step or another joint had."""

    def __init__(self, roster: Roster, toolbox: Toolbox) -> None:
        super().__init__(roster, toolbox)
        self.last_sentence: list[Action] = []

    def _same_as_the_last(self, deed: Deed) -> list[ReadAction]:
        """ "Fill plug, same deal": put in and closed as the last joint of that sort was."""
        targets = [key for key in self.ids.get(id(deed.thing), ()) if self.is_joint(key)]
        heads = {head for key in targets for head in self.roster.by_id[key].heads}
        alike = [key for key in self.closing if key not in targets and self.roster.by_id[key].heads & heads]
        if not targets or not alike:
            self.doubts.append("the same as what?")
            return []
        first = Action("install", targets[0], mode=deed.mode, washer=self.washer_of.get(alike[-1]))  # type: ignore[arg-type]
        done = [evolve(action, what=targets[0], count=None, washer=None) for action in self.closing[alike[-1]]]
        return [ReadAction(action, deed, None) for action in (first, *done)]

    def repeated(self, deed: Deed) -> list[ReadAction]:
        """What is told by pointing to it: the last sentence on another joint ("do the same with the level screw") or on
        so many more of the same, the closing of the last joint of that sort, the steps whose numbers stand there."""
        if deed.lemma == "more" and deed.thing is not None:
            last = [action for action in self.last_sentence if action.count and self.is_joint(action.what)]
            if not last:
                self.doubts.append("another of what?")
            return [ReadAction(evolve(action, count=deed.thing.count), deed, None) for action in last]
        if deed.lemma == "same" and deed.thing is not None:
            return self._same_as_the_last(deed)
        beside = [
            held
            for text, held in deed.clause.preps
            if isinstance(held, Thing) and text in ("with", "to", "for", "on", "at")
        ]
        targets = [key for held in beside for key in self.ids.get(id(held), ()) if self.is_joint(key)]
        targets = targets or [key for held in beside for key in self.roster.called(held)]
        labels = [label for held in [*beside, *deed.clause.objects] for label in held.labels]
        done = self.steps_done
        source = [action for label in labels for action in done.get(label.upper(), done.get(label, ()))]
        if labels and set(targets) < {action.what for action in source if self.is_joint(action.what)}:
            targets = []  # "for the second head": a place that shares its name with one of several joints
        again = done_again(source if labels else self.last_sentence, beside, targets, self.roster)
        if not again and labels and not targets:
            again = other_parts(source, beside, self.roster)
        if again:
            return [ReadAction(action, deed, None) for action in again]
        note = deed.clause.objects[0].text if deed.clause.objects else ""
        return [ReadAction(Action("repeat", note, mode=deed.mode, note=", ".join(labels)), deed, None)]  # type: ignore[arg-type]
