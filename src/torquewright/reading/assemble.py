"""Sentences become actions of a procedure: each deed with the record it is done to.

One :class:`Assembler` goes through a draft in the order of the text and remembers what was spoken of, so that "it",
"both" and "the six bolts" can be told. What is not certain stays words and makes its sentence read in part.
"""

from __future__ import annotations

from copy import copy

from attrs import evolve

from torquewright.reading.again import Again
from torquewright.reading.beside import on_both_sides, things_in
from torquewright.reading.kept import ReadAction, ReadSentence
from torquewright.reading.objects import Roster
from torquewright.reading.ordering import in_time, order_of, passes_of
from torquewright.reading.questions import (
    adapter_angle_of,
    apart,
    is_adapter,
    kept_dry,
    mounted_adapter,
    same,
    scale_of,
    state_of,
    told_new,
    verb_of,
    wears,
    without_echo,
)
from torquewright.reading.toolbox import Toolbox, amount_of, substance_of, unclear_amount
from torquewright.records.steps import Action
from torquewright.sentences.deeds import TIGHTENING, Deed
from torquewright.sentences.figures import by_turns
from torquewright.sentences.sentence import Sentence
from torquewright.sentences.staging import in_unit, one_tightening, shared_out
from torquewright.sentences.things import Thing
from torquewright.sentences.words import Word

_KEPT = frozenset("keep save retain use set lay".split())
_OFF_AND_ON = frozenset("loosen back_off remove install hand_start seat tighten reuse replace position".split())
_PARTS = frozenset(("", *"part consumable threaded machine hose cable valve load power temporary".split()))
_PUT = frozenset("install replace insert position".split())
_SET_FOR = 4  # sentences: a wrench that was set is soon used
_TAKEN_OFF = frozenset({"remove", "disconnect", "loosen"})


class Assembler(Again):
    """Turns the sentences of one draft into actions. ``roster`` knows the records and what was spoken of last."""

    def __init__(self, roster: Roster, toolbox: Toolbox) -> None:
        super().__init__(roster, toolbox)
        self.last_tight: Action | None = None
        self.opened_if: set[str] = set()  # joints that this step opens under a condition only
        self.kept: set[str] = set()  # what is kept to go back in
        self.new: set[str] = set()  # what was last spoken of as new, and has not gone in yet
        self.held_by: dict[str, tuple[str, ...]] = {}  # joints told of with a part: "the cover (four screws)"
        self.back: set[str] = set()  # joints whose part was put back since
        self.preset: tuple[list[Word], Thing | None] = ([], None)  # what a wrench was set to, until it is used
        self.preset_for = 0  # for so many more sentences
        self.adapter: tuple[str, float | None] = ("", None)  # what sits on the wrench, and how it stands
        self.adapter_for = 0  # for so many more sentences
        self.unit = ""  # what the document states for all its figures

    def end_step(self) -> None:
        """Forget what holds within one step only."""
        self.opened_if.clear()
        self.roster.topic = (set(), set())

    def take(self, sentence: Sentence) -> ReadSentence:
        """The actions of one sentence, in the order they are done."""
        self.spoken = []
        self.ids = {}
        self.doubts = []
        self.deeds = sentence.deeds
        said = {word.text for word in sentence.words}
        self.roster.topic = (said, self.roster.topic[1] | said)
        self.out: set[str] = set()  # what this sentence has taken out
        self.share: dict[str, int | None] = {}  # how many of a joint this sentence speaks of, where not all
        self.deed_of = {id(deed.thing): deed for deed in reversed(sentence.deeds)}  # the first thing done to it
        fitted = [deed.thing for deed in sentence.deeds if deed.verb == "install" and deed.thing is not None]
        self.gone = [deed.thing for deed in sentence.deeds if deed.verb in ("remove", "discard") and deed.thing]
        self.laid = any(thing.kind == "washer" for thing in fitted)
        self.clause_of = {}
        for clause in sentence.clauses:
            for thing in things_in(clause):
                self.clause_of[id(thing)] = clause
        for thing in self.in_mind(sentence):
            ids = self.ids.get(id(thing))
            if ids is None:
                ids = self.ids[id(thing)] = self.meant(thing, self.deed_of.get(id(thing)))
            if not ids and not thing.pronoun and thing.kind in _PARTS:
                ids = (("~~" if thing.plural else "~") + thing.text,)
            if ids:
                self.roster.mention(ids)
                if thing.quantifier in ("each", "every"):
                    self.roster.singly = ids
                elif thing.kind == "fastener" and ids != self.roster.singly:
                    self.roster.singly = ()
                self.spoken.append((thing.start, ids))
            if not thing.pronoun:
                self.known.append(thing)
                if thing.kind in ("", "threaded", "machine", "consumable", "hose", "power"):
                    self.last_part = thing
        self.preset_for -= 1
        self.adapter_for -= 1
        if sentence.preset[0]:
            self.preset, self.preset_for = sentence.preset, _SET_FOR
        made: list[ReadAction] = []
        asked = any(deed.doubt == "replace" for deed in sentence.deeds)
        for deed in in_time(sentence.deeds):
            made.extend(self._actions(deed, sentence))
        if any(held.torques == self.preset[0] for held in sentence.deeds if held.verb in ("tighten", "retighten")):
            self.preset_for = 0  # used once: the next joint needs a figure of its own
        made = without_echo(apart(made))
        if any(deed.verb in ("refer", "repeat") and deed.mode == "if" for deed in sentence.deeds):
            # "if it weeps, go back to step 4 and use fresh rings": what is done there is done in that step
            made = [held for held in made if not (held.action.mode == "if" and held.action.verb in _PUT)]
        made = [self._in_the_branch(held) for held in made]
        if len(self.known) > 80:
            del self.known[:40]
        if made:
            self.last_sentence = [held.action for held in made]
        for held in made:
            if held.action.mode == "do" and held.action.verb in _OFF_AND_ON:
                (self.roster.off.add if held.action.verb == "remove" else self.roster.off.discard)(held.action.what)
                tight = held.action.verb == "tighten" and held.action.to is not None
                (self.roster.tight.add if tight else self.roster.tight.discard)(held.action.what)
            self.keep_closing(held.action)
            if held.action.verb in _TAKEN_OFF and held.action.mode == "do":
                self.taken_off.add(held.action.what)
            if held.deed.doubt == "replace" and (held.action.what in self.taken_off or wears(held.deed)):
                held.deed.doubt = ""  # what was taken off to get at something goes back; what was not is renewed
            if held.action.verb in ("tighten", "retighten") and held.action.to is not None:
                self.last_tight = held.action
                self.last_to[held.action.what] = held.action
        status = sentence.status
        if self.doubts and status == "read":
            status = "in part"
        elif status == "in part" and asked and not sentence.leftover and not any(deed.doubt for deed in sentence.deeds):
            status = "read"
        about = frozenset(key.partition("|")[0] for _, ids in self.spoken for key in ids)
        return ReadSentence(sentence, status, made, list(dict.fromkeys(self.doubts)), about)

    def _in_the_branch(self, held: ReadAction) -> ReadAction:
        """What is closed in the step that opened it under a condition is under the condition too: "if the level is low,
        open the plug. Top up and close the plug with a new washer"."""
        action = held.action
        joint = action.of or action.what
        if action.verb == "remove" and not action.of and self.is_joint(joint):
            opened = action.mode == "if" and joint not in self.roster.off
            (self.opened_if.add if opened else self.opened_if.discard)(joint)
        elif action.mode == "do" and joint in self.opened_if and action.verb in _OFF_AND_ON:
            return held._replace(action=evolve(action, mode="if"))
        return held

    # ---- deeds ----------------------------------------------------------------------------------------------------

    def _actions(self, deed: Deed, sentence: Sentence) -> list[ReadAction]:
        made: list[ReadAction] = []
        if deed.verb == "limit" or deed.lemma == "note":
            return []  # a limit goes with its demand; what is only taken note of is no action
        if deed.verb == "repeat":
            return self.repeated(deed)
        if deed.verb == "tighten" and (turns := by_turns(deed.clause, deed.torques)):
            # "30 N·m with the small wrench, then 63 N·m with the big one": a pull for each tool
            for word, tool in turns:
                pull = copy(deed)
                pull.torques, pull.tool = [word], tool
                made.extend(self._actions(pull, sentence))
            return made
        thing = deed.thing
        if (
            thing is not None
            and (thing.kind == "washer" or any(key.endswith("|washer") for key in self.ids.get(id(thing), ())))
            and any(
                other is not deed
                and other.clause is deed.clause
                and thing in other.washers
                and other.verb in ("install", "hand_start", "replace", "reuse")
                and other.thing is not None
                and any(self.is_joint(key) for key in self.ids.get(id(other.thing), ()))
                for other in sentence.deeds
            )
        ):
            return []  # goes on with its fastener
        targets = self.targets(deed)
        if lent := self.lent(deed, targets):
            used = Action(verb=lent, what="jacking screw", mode=deed.mode)  # type: ignore[arg-type]
            return [ReadAction(used, deed, sentence)]
        if deed.verb == "remove" and not deed.counted and (not targets or set(targets) <= self.roster.off):
            return []  # only what the draining implies, and it is out already
        if deed.verb in ("tighten", "retighten") and deed.torques:
            self.preset_for = 0
        elif deed.verb in ("tighten", "retighten") and deed.mode in ("do", "stated_passively") and self.preset_for > 0:
            deed.torques = list(self.preset[0])  # "Set the wrench to 8 N·m." and in the next sentence "tighten them"
            deed.tool = deed.tool or self.preset[1]
        if shared_out(deed):
            return self.shared(deed, targets)
        to = one_tightening(deed) if deed.torques else None
        if to is not None and not to.has_value:
            to = in_unit(to, scale_of(deed) or self.unit)
        if to is not None and not to.has_value:
            to = self.said_before(to, sentence) or to
        if to is None and deed.verb in ("tighten", "retighten") and self.last_tight is not None and same(deed):
            to = next((self.last_to[key].to for key in targets if key in self.last_to), self.last_tight.to)
        if to is None and deed.verb in ("tighten", "retighten"):
            to = self.figure_of_another(deed)
        if (
            deed.verb == "tighten"
            and to is not None
            and to.kind == "maximum"
            and deed.mode == "do"
            and targets
            and all(key in self.last_to and self.last_to[key].to is not to for key in targets)
            and self.last_sentence
            and any(action.what in targets and action.to is not None for action in self.last_sentence)
        ):
            return []  # "Do not exceed 5 N·m." behind the demand is its limit, no further pull
        if unclear := unclear_amount(deed):
            self.doubts.append(unclear)
        if deed.verb == "tighten":
            to = self.from_table(deed, to, targets, sentence)
        if (mounted := mounted_adapter(deed)) is not None:
            self.adapter, self.adapter_for = (mounted, adapter_angle_of(deed, sentence)), _SET_FOR
        base = Action(
            verb=verb_of(deed),
            what="",
            mode=deed.mode,  # type: ignore[arg-type]
            state=state_of(deed),  # type: ignore[arg-type]
            to=to if deed.demanded or deed.verb == "measure" else None,
            tool=self.toolbox.name(deed.tool) if deed.tool is not None else "",
            with_what=substance_of(deed, self.roster),
            order=order_of(deed, sentence),
            passes=passes_of(deed),
            amount=amount_of(deed),
            setting=deed.setting.found.tightening if deed.setting is not None and deed.setting.found else None,
            adapter_angle=adapter_angle_of(deed, sentence) if deed.verb in TIGHTENING else None,
            by_hand=deed.by_hand or deed.lemma in ("hand-start", "finger-start"),
        )
        if deed.verb == "measure" and base.to is not None:
            base = evolve(base, to=None)
        if base.adapter_angle is not None and base.to is not None and not base.adapter and "crow" not in base.tool:
            told = next((held for held in sentence.things if held.kind == "tool" and is_adapter(held)), None)
            if told is not None and told is not deed.tool:
                base = evolve(base, adapter=self.toolbox.name(told))  # "put the crowfoot in line with the wrench, …"
        if deed.tool is not None and is_adapter(deed.tool) and base.to is not None:
            # "with the crowfoot on the big wrench": the wrench pulls, the crowfoot sits on it
            drives = [held for text, held in deed.clause.preps if text == "on" and isinstance(held, Thing)]
            drives = [held for held in drives if held.kind == "tool" and "wrench" in held.text]
            if drives:
                base = evolve(base, adapter=base.tool, tool=self.toolbox.name(drives[0]))
        on_wrench = deed.verb in TIGHTENING and base.to is not None and base.adapter_angle is None
        if on_wrench and self.adapter_for > 0 and "crow" not in base.tool:
            base = evolve(base, adapter=self.adapter[0], adapter_angle=self.adapter[1])
        count = thing.count if thing is not None and thing.kind != "feature" else None
        if (
            count is not None
            and any(
                isinstance(held, Thing)
                and held.quantifier in ("each", "both", "every")
                and held.kind in ("feature", "")
                for _, held in deed.clause.preps
            )
            and not (thing is not None and thing.kind == "washer")
        ):
            count = None  # "one nut on each side": one at every place
        if thing is not None and thing.kind == "washer" and thing.count in (None, 1) and not thing.plural:
            joint = self.roster.by_id.get(targets[0].partition("|")[0]) if targets else None
            if joint is not None and on_both_sides(deed, thing):
                count = 2 * (joint.count or 1)  # "one new sealing washer on each side of each banjo eye"
        if thing is not None and thing.pronoun and thing.head == "both" and len(targets) == 1:
            count = None
        for target in targets or [""]:
            action = self.aimed(base, target, deed, count, len(targets))
            last = self.closing.get(target) or [action]
            anew = base.verb == "retighten" and deed.lemma == "go" and "again" not in deed.clause.said
            if anew and last[-1].verb in ("hand_start", "seat"):
                action = evolve(action, verb="tighten")  # "go round each head, first to 8 N·m, then to 17 N·m"
            if deed.verb == "reuse" and deed.mode in ("do", "stated_passively") and deed.lemma in _KEPT:
                self.kept.add(target)  # told ahead: it goes back in when a later step puts it in
                continue
            if target in self.kept and deed.verb == "install":
                self.kept.discard(target)
                if not action.state:
                    action = evolve(action, state="old")
            if target and not action.state and deed.verb == "install" and self._told_new_beside(deed, target):
                action = evolve(action, state="new")  # "work some of it into a new felt ring"
            if told_new(deed) and target and deed.verb not in ("install", "discard", "remove"):
                self.new.add(target)
            elif deed.verb in ("install", "reuse", "replace", "discard", "hand_start"):
                if target in self.new and not action.state and deed.verb in ("install", "hand_start"):
                    action = evolve(action, state="new")  # "wet a new seal and push it in"
                self.new.discard(target)
            if (
                deed.verb == "tighten"
                and deed.clause.role in ("fragment", "phrase")
                and "by hand" in deed.said
                and action.to is not None
            ):
                # "Pipe nut: by hand first, then 12 N·m"
                started = evolve(action, verb="hand_start", to=None, tool="", by_hand=True)
                made.append(ReadAction(started, deed, sentence))
            back = target in self.back or deed.lemma in ("close", "shut")
            if base.verb == "tighten" and back and target in self.roster.off | self.out and deed.mode != "do_not":
                # "put the cover back on; its screws take 4.5 N·m": they are put back with it; "close the fill screw"
                made.append(ReadAction(evolve(action, verb="install", to=None, tool="", order=""), deed, sentence))
                self.back.discard(target)
            if thing is not None and action.count is None and thing.head == "them" and thing.quantifier != "all":
                action = evolve(action, count=self.share.get(target))  # "loosen the four bolts and remove them"
            elif action.count is not None and self.is_joint(target):
                whole = self.roster.by_id[target].count
                self.share[target] = action.count if whole is None or action.count < whole else None
            made.append(ReadAction(action, deed, sentence))
        if deed.verb not in ("remove", "discard", "loosen", "drain"):
            own = deed.clause.objects if deed.verb in ("lubricate", "seal", "clean", "inspect") else []
            for held in [*own, *(piece for _, piece in deed.clause.preps if isinstance(piece, Thing))]:
                part = held
                while held.kind == "feature" and held.owner is not None:
                    held = held.owner
                whole = part.owner if part.owner is not None and part.owner.state == "new" else held
                if whole.state == "new" and held.kind not in ("washer", "seal", "lock"):
                    # "oil the threads of two new foot bolts", "over the foot of the new switch"
                    ids = self.ids.get(id(held), ()) or self.ids.get(id(part), ())
                    self.new.update(key for key in ids if self.is_joint(key))
        if deed.verb == "remove" and deed.mode == "do":
            self.out.update(targets)
        self._with_part(deed)
        if deed.verb in ("remove", "install", "loosen", "disconnect", "connect") and not any(
            self.is_joint(held.action.what) for held in made
        ):
            # "the brake cover (four M5 screws)": what holds it is meant with it
            for thing in deed.clause.brackets:
                for key in self.ids.get(id(thing), ()):
                    if self.is_joint(key):
                        made.append(ReadAction(evolve(base, what=key, count=thing.count), deed, sentence))
        if deed.verb in ("install", "hand_start", "seat", "tighten", "replace", "reuse", "position"):
            use = self.washers_with(deed)
            if use is not None:
                first = {held.action.what: at for at, held in reversed(list(enumerate(made)))}
                made = [
                    held._replace(action=evolve(held.action, washer=use))
                    if self.is_joint(held.action.what) and first[held.action.what] == at
                    else held
                    for at, held in enumerate(made)
                ]
        if deed.mode == "do" and kept_dry(deed):
            # "start them by hand and tighten them, still dry"
            bare = Action("lubricate", "", mode="do_not")
            made.extend(ReadAction(evolve(bare, what=key), deed, sentence) for key in targets if self.is_joint(key))
        made.extend(ReadAction(action, deed, sentence) for action in self.in_the_same_way(deed, targets))
        return made

    def _told_new_beside(self, deed: Deed, target: str) -> bool:
        """Whether what a deed is done to stands behind a small word, and is new there."""
        if deed.thing is None or not deed.thing.pronoun:
            return False
        beside = [held for _, held in deed.clause.preps if isinstance(held, Thing) and held.state == "new"]
        return any(target in self.ids.get(id(held), ()) for held in beside)

    def _with_part(self, deed: Deed) -> None:
        """Remember which joints came off with a part, and that they go back with it."""
        thing = deed.thing
        if thing is None or thing.pronoun or deed.mode not in ("do", "stated_passively"):
            return
        if deed.verb == "remove":
            held = [key for other in deed.clause.brackets for key in self.ids.get(id(other), ()) if self.is_joint(key)]
            if held:
                self.held_by[thing.head] = tuple(held)
        elif deed.verb in ("install", "position") and thing.head in self.held_by:
            self.back.update(self.held_by[thing.head])
