"""From clauses to deeds: which clause commands, forbids, conditions, presupposes or only mentions."""

from __future__ import annotations

from torquewright.sentences.clause import CONDITIONS, Clause
from torquewright.sentences.commands import command
from torquewright.sentences.deeds import HANDLED, Deed
from torquewright.sentences.facts import FIRMLY, is_angle, is_torque
from torquewright.sentences.fragments import fragment, participle, tail
from torquewright.sentences.links import after, before, conditional, gerund, phrase, until
from torquewright.sentences.statements import statement
from torquewright.sentences.telling import Telling
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word


def _further(deed: Deed) -> bool:
    """Whether an angle comes on top of what is tight: "tighten it by a further eighth of a turn"."""
    return any({"further", "another", "more"} & set(word.text.split()) for word in deed.torques)


class Demands(Telling):
    """The deeds of one sentence, in the order of its clauses."""

    def __init__(self, clauses: list[Clause], words: list[Word], before: list[Thing], signal: str = "") -> None:
        super().__init__(clauses, words, before, signal)
        for index, clause in enumerate(clauses):
            self._one(index, clause)
        self._settle()

    def _one(self, index: int, clause: Clause) -> None:
        if self.parted(clause):
            self.condition = None
            self.waiting = []
        link = clause.link
        if clause.role == "condition":
            self.condition = None if self._ended() else clause
            return
        if link in CONDITIONS or link.startswith("only if"):
            conditional(self, clause)
        elif link in ("until", "till", "not until"):
            until(self, clause)
        elif link in ("before", "prior to", "just before", "immediately before"):
            before(self, clause)
        elif link in (
            "after",
            "once",
            "when",
            "as soon as",
            "only after",
            "only once",
            "only when",
            "immediately after",
            "directly after",
            "now that",
        ):
            after(self, clause)
        elif link == "by":
            made = command(self, clause, by=True)
            last = self.deeds[-1 - len(made)] if len(self.deeds) > len(made) else None
            if made and made[0].verb == "lock" and last is not None and last.lemma in ("secure", "fasten", "hold"):
                self.deeds.remove(last)  # "secure the nut by peening its collar" is that one deed
        elif link == "that":
            statement(self, clause)
        elif link in (
            "while",
            "whilst",
            "as",
            "because",
            "since",
            "so that",
            "although",
            "though",
            "so",
            "lest",
            "such that",
            "in order that",
            "whether",
            "whereas",
            "wherever",
            "that",
            "as if",
        ):
            bare = any(text == "to" and isinstance(held, Word) for text, held in clause.preps)  # "to 41", no unit told
            vague = bare or bool(FIRMLY & set(clause.said))
            vague = vague and clause.lemma in ("tighten", "torque")
            if (
                link in ("while", "whilst")
                and clause.role == "gerund"
                and (vague or any(is_torque(word) for word in clause.torques))
            ):
                command(self, clause)  # "hold the pulley while tightening the nut to 75 N·m"
                return
            if (
                link in ("while", "whilst")
                and clause.subject is not None
                and clause.subject.head in ("you", "they", "he")
                and clause.verb is not None
                and (vague or clause.torques)
            ):
                command(self, clause)  # "hold the stud while you tighten the nut to 15 N·m"
                return
            told = next((deed for deed in self.deeds if deed.verb == "tighten"), None)
            if link == "as" and clause.role == "fragment" and told is not None and not told.torques:
                told.clause.preps.append(("as", clause.subject))  # "…: by hand first, then as the drain screw"
            self.note(clause)
            if clause.torques and not clause.verb:
                self.waiting.extend(clause.torques)
        elif clause.role == "command":
            command(self, clause)
        elif clause.role == "statement":
            statement(self, clause)
        elif clause.role == "gerund":
            gerund(self, clause)
        elif clause.role == "phrase":
            phrase(self, clause)
        elif clause.role == "tail":
            tail(self, clause)
        elif clause.role == "participle":
            participle(self, clause)
        else:
            fragment(self, index, clause)

    def _ended(self) -> bool:
        """Whether the branch before "otherwise" only ends the job: what follows is how it goes on."""
        under = [deed for deed in self.deeds if deed.mode == "if"]
        ends = any(clause.lemma in ("quit", "stop", "end", "abort", "halt") for clause in self.clauses)
        return ends and all(deed.verb == "stop" for deed in under)

    def _shares(self, deed: Deed, later: Deed) -> bool:
        """Whether two verbs joined with "and" have one object, behind the second."""
        if deed.clause.role != "command" or deed.clause.pieces or deed.clause.preps or later.clause is deed.clause:
            return False
        between = [word.text for word in self.words[deed.clause.first : later.clause.first]]
        return between[-1:] in (["and"], ["or"]) and len(between) == 2 and {deed.verb, later.verb} <= HANDLED

    def _settle(self) -> None:
        """What only shows once the whole sentence is known."""
        deeds = self.deeds
        for place, deed in enumerate(list(deeds)):
            place = deeds.index(deed)
            later = deeds[place + 1] if place + 1 < len(deeds) else None
            ahead = deeds[place - 1] if place else None
            if deed.thing is None and deed.verb in ("replace", "discard") and ahead is not None:
                deed.thing = ahead.thing  # "inspect the thrust washer; replace if worn"
            if deed.thing is None and later is not None and self._shares(deed, later):
                deed.thing = later.thing  # "tighten and lock the nut"
            rounds = deed.lemma == "go" and deed.verb == "retighten" and not deed.torques
            if rounds and later is not None and later.verb in ("tighten", "retighten"):
                deeds.remove(deed)  # "go round again and tighten them to 11 N·m" is one round
                continue
            before = deeds[place - 1] if place else None
            if (
                deed.verb == "record"
                and before is not None
                and before.verb == "record"
                and (deed.thing is None or deed.thing.pronoun)
            ):
                deed.counted = False  # "enter the values and sign them" is one entry
            if (
                deed.verb == "tighten"
                and deed.lemma in ("tighten", "torque")
                and "again" in deed.clause.said
                and len(deed.torques) <= 1
                and not any(held.verb in ("loosen", "back_off", "tighten") for held in deeds[:place])
            ):
                deed.verb = "retighten"
            waited = any(held.verb in ("wait", "run", "start") for held in deeds[:place])
            if waited and deed.verb == "tighten" and "again" in deed.clause.said:
                deed.verb = "retighten"  # "tighten to 30, wait five minutes, tighten again"
            earlier = any(held.verb == "tighten" and held.mode == deed.mode for held in deeds[:place])
            loosened = any(held.verb in ("back_off", "loosen") for held in deeds[:place])
            if deed.verb == "retighten" and earlier and loosened:
                deed.verb = "tighten"
            if (
                deed.verb == "loosen"
                and earlier
                and any(held.verb in ("tighten", "retighten") for held in deeds[place + 1 :])
            ):
                deed.verb = "back_off"
            if (
                deed.verb == "loosen"
                and deed.lemma != "open"
                and any(is_angle(word) for word in deed.torques)
                and any(
                    later.verb in ("tighten", "retighten") and later.mode == deed.mode for later in deeds[place + 1 :]
                )
            ):
                deed.verb = "back_off"
            if deed.verb == "hand_start" and deed.torques:
                torques = [word for word in deed.torques if is_torque(word)]
                if torques:
                    tight = Deed("tighten", deed.mode, deed.thing, deed.clause)
                    tight.torques = torques
                    tight.order = deed.order + 0.2
                    deed.torques = [word for word in deed.torques if not is_torque(word)]
                    deeds.insert(place + 1, tight)
                deed.demanded = False
            if deed.verb in ("back_off", "loosen"):
                deed.demanded = False
            if (
                deed.verb == "isolate"
                and deed.lemma in ("switch", "turn", "shut")
                and any(held.verb in ("start", "run") and held.mode == deed.mode for held in deeds[:place])
            ):
                deed.verb = "stop"  # "switch the pump on, let it run, switch it off"
            if deed.lemma == "close" and deed.verb == "tighten" and not deed.torques and place + 1 < len(deeds):
                later = deeds[place + 1]
                if later.verb == "tighten" and later.thing is not None and later.thing.pronoun:
                    deeds.remove(deed)  # "close it and tighten it to 6 N·m" is one pull
            if len(deed.torques) == 1 and is_angle(deed.torques[0]) and "twice" in deed.clause.said:
                deed.torques = [*deed.torques, *deed.torques]  # "swing each one through 90° twice"
            if (
                deed.verb == "tighten"
                and deed.torques
                and all(is_angle(word) for word in deed.torques)
                and (deed.lemma in ("turn", "rotate", "advance") or _further(deed))
            ):
                deed.verb = "tighten_angle"
