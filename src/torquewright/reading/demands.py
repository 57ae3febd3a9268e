"""From clauses to deeds: which clause commands, forbids, conditions, presupposes or only mentions."""

from __future__ import annotations

from torquewright.reading.clause import CONDITIONS, Clause
from torquewright.reading.deeds import FITTING, TIGHTENING, Deed
from torquewright.reading.facts import NOT_JOINTS, facts_of, is_angle, is_time, is_torque, light_noun, sense_of
from torquewright.reading.things import DOCUMENTS, Thing
from torquewright.reading.tightening import Found, find_tightenings
from torquewright.reading.words import Word

_BINDING = frozenset("must shall should have to be to need ought has".split()) | {"have to", "be to"}
_PERMITS = frozenset("may can might could".split())
_DAMAGED = frozenset(
    "nicked cracked torn worn scored damaged bent broken stretched corroded dirty leaking loose distorted pitted burnt hard "
    "brittle swollen flattened missing rusty tight stuck".split()
)
_TORQUE_VERBS = frozenset("take need want require get receive have be call".split())
_TURNED = frozenset("turn twist rotate move spin start run".split())
_WHOLE = {"leave_out": ("install", "do_not"), "leave_in": ("remove", "do_not"), "leave_loose": ("tighten", "do_not")}


class Demands:
    """The deeds of one sentence, in the order of its clauses. ``before`` are things named just before it, the
    latest last, for "it" and "them". ``parted`` tells whether a stop stands between two word indexes."""

    def __init__(self, clauses: list[Clause], words: list[Word], before: list[Thing]) -> None:
        self.clauses = clauses
        self.words = words
        self.known: list[Thing] = list(before)
        self.deeds: list[Deed] = []
        self.remarks: list[Clause] = []  # statements that demand nothing
        self.loose: list[Clause] = []  # what could not be placed
        self._condition: Clause | None = None
        self._waiting: list[Word] = []  # torques named ahead of the command they belong to
        self._fronted: list[Clause] = []
        self._set_tool: Thing | None = None
        self._range_tool: Thing | None = None
        self._last_stop = 0
        for index, clause in enumerate(clauses):
            self._one(index, clause)
        self._settle()

    # ---- one clause -----------------------------------------------------------------------------------------------

    def _one(self, index: int, clause: Clause) -> None:
        if self._parted(clause):
            self._condition = None
            self._waiting = []
        link = clause.link
        if clause.role == "condition":
            self._condition = clause
            return
        if link in CONDITIONS or link.startswith("only if"):
            self._conditional(clause)
        elif link in ("until", "till", "not until"):
            self._until(clause)
        elif link in ("before", "prior to", "just before", "immediately before"):
            self._before(clause)
        elif link in ("after", "once", "when", "as soon as", "only after", "only once", "only when", "immediately after", "directly after", "now that"):
            self._after(clause)
        elif link == "by":
            self._command(clause, by=True)
        elif link == "that":
            self._statement(clause)
        elif link in ("while", "whilst", "as", "because", "since", "so that", "although", "though", "so", "lest", "such that", "in order that", "whether", "whereas", "wherever", "that", "as if"):
            if link in ("while", "whilst") and clause.subject is not None and clause.subject.head in ("you", "they", "he") and clause.verb is not None and clause.torques:
                self._command(clause)  # "hold the stud while you tighten the nut to 15 N·m"
                return
            self._note_things(clause)
            if clause.torques and not clause.verb:
                self._waiting.extend(clause.torques)
        elif clause.role == "command":
            self._command(clause)
        elif clause.role == "statement":
            self._statement(clause)
        elif clause.role == "gerund":
            self._gerund(clause)
        elif clause.role == "phrase":
            self._phrase(clause)
        elif clause.role == "tail":
            self._tail(clause)
        elif clause.role == "participle":
            self._participle(clause)
        else:
            self._fragment(index, clause)

    def _parted(self, clause: Clause) -> bool:
        found = any(word.text in ".;!?" for word in self.words[self._last_stop : clause.first])
        self._last_stop = clause.first
        return found

    def _note_things(self, clause: Clause) -> None:
        """Remember the things a clause names, for later pronouns: what it is about comes to mind last."""
        for thing in clause.brackets:
            self._remember(thing)
        for _, held in clause.preps:
            if isinstance(held, Thing):
                self._remember(held)
        if clause.subject is not None:
            self._remember(clause.subject)
        for thing in clause.objects:
            self._remember(thing)

    def _remember(self, thing: Thing) -> None:
        if thing.owner is not None:
            self._remember(thing.owner)
        if not thing.pronoun:
            self.known.append(thing)

    def antecedent(self, thing: Thing | None, clause: Clause | None = None) -> Thing | None:
        """What a pronoun stands for among the things named so far: the latest that fits in number and in kind."""
        text = thing.head if thing is not None else ""
        plural = text in ("them", "they", "these", "those", "both", "all", "ones", "each", "any", "none") or (
            thing is not None and thing.plural
        )
        wanted = ("fastener", "lock", "washer", "seal", "threaded", "consumable", "machine", "")
        fasten = clause is not None and (
            clause.lemma in _FASTENING
            or any(is_torque(word) for word in clause.torques)
            or (clause.lemma in _PERHAPS and bool({"in", "up", "down", "home", "on"} & set(clause.particles) or "by hand" in clause.said))
        )
        for pick in (1, 2):
            for known in reversed(self.known):
                if known.kind in ("tool", "feature", "measure", "document", "damage", "dirt", "leakage", "person") and pick == 1:
                    continue
                if known.kind in ("document", "damage", "measure", "person", "leakage"):
                    continue
                if text == "it" and (known.plural or (known.count or 1) > 1) and pick == 1:
                    continue
                if plural and not (known.plural or (known.count or 1) > 1 or known.quantifier) and pick == 1:
                    continue
                if fasten and pick == 1 and known.kind not in ("fastener", "threaded", "lock") :
                    continue
                if known.kind in wanted or pick == 2:
                    return known
        return None

    # ---- commands -------------------------------------------------------------------------------------------------

    def _mode(self, clause: Clause, base: str = "do") -> str:
        if clause.negated:
            return "do_not"
        if self._condition is not None or any(said in _IFS for said in clause.said):
            return "if"
        return base

    def _command(self, clause: Clause, by: bool = False, base: str = "do") -> list[Deed]:
        for held in self._fronted:
            clause.preps = held.preps + clause.preps
            clause.said = clause.said + held.said
            self._waiting.extend(held.torques)
        self._fronted = []
        things = clause.objects
        known = self.antecedent(things[0] if things else None, clause) if not things or things[0].pronoun else None
        if self._waiting and not clause.torques:
            clause.pieces = clause.pieces + list(self._waiting)
            self._waiting = []
        if clause.lemma == "set" and any(thing.kind == "tool" for thing in things):
            self._waiting.extend(clause.torques)
            self._set_tool = next(thing for thing in things if thing.kind == "tool")
            self.remarks.append(clause)
            return []
        if clause.lemma == "exceed" and clause.negated and clause.torques:
            self._as_limit(clause)
            return []
        light, noun = light_noun(clause)
        if light and noun is not None:
            # "give the bolts a squirt of oil": what stands before the noun is what it is done to
            clause.pieces = [piece for piece in clause.pieces if piece is not noun]
            if noun.owner is not None:
                clause.preps.append(("with", noun.owner))
            clause.preps = [("on" if text in ("at", "to", "over") else text, held) for text, held in clause.preps]
            things = clause.objects or [held for text, held in clause.preps if isinstance(held, Thing) and text == "on"]
            clause.pieces = [*things, *clause.torques]
        if not clause.torques and clause.lemma in ("tighten", "torque", "retighten", "retorque"):
            self._bare_figure(clause)
        facts = facts_of(clause, known, things)
        sense = light or sense_of(clause, facts)
        mode = self._mode(clause, base)
        if sense == "" and clause.lemma not in ("be",):
            if clause.role == "command" or clause.verb is not None and clause.role != "statement":
                self.loose.append(clause)
            return []
        made = self._deeds_for(clause, sense, mode, facts, things, known)
        if not made and (sense == "-" or sense == "use-tool"):
            self.remarks.append(clause)
        self._note_things(clause)
        if any(thing.head == "any" or thing.quantifier == "any" and thing.pronoun for thing in things):
            for deed in made:
                if deed.mode == "do":
                    deed.mode = "if"
        if by:
            for deed in made:
                deed.order = -0.5
        self.deeds.extend(made)
        return made

    def _bare_figure(self, clause: Clause) -> None:
        """"Torque the nut to 35": a demand whose unit is not told."""
        for text, held in clause.preps:
            if isinstance(held, Word) and text in ("to", "at", "with") and not held.kind and held.value is not None:
                found = find_tightenings(held.text, bare=True)
                if len(found) == 1:
                    held.found = Found(held.start, held.end, found[0].tightening)
                    clause.pieces.append(held)
                return

    def _as_limit(self, clause: Clause) -> None:
        """"do not exceed 30 lbf·ft" told with a verb of its own."""
        target = next((held for text, held in clause.preps if isinstance(held, Thing) and text in ("on", "for", "of", "at")), None)
        last = next((deed for deed in reversed(self.deeds) if deed.verb in TIGHTENING and deed.torques), None)
        deed = Deed("tighten" if last is None or target is not None else "limit", "do", target if target is not None else (last.thing if last else None), clause)
        deed.torques = list(clause.torques)
        deed.said = [*clause.said, "at most"]
        deed.demanded = deed.verb == "tighten"
        self.deeds.append(deed)
        self._note_things(clause)

    def _deeds_for(
        self, clause: Clause, sense: str, mode: str, facts: set[str], things: list[Thing], known: Thing | None
    ) -> list[Deed]:
        if sense == "-":
            if clause.lemma == "add" and clause.torques and any(deed.verb == "measure" for deed in self.deeds):
                # running torque measured, "and add it to 22": that sum is the figure
                deed = Deed("tighten", mode, None, clause)
                deed.torques = list(clause.torques)
                deed.said = [*clause.said, "added"]
                source = self.deeds[-1].thing
                deed.thing = source.owner if source is not None and source.owner is not None else source
                return [deed]
            return []
        if sense in _WHOLE:
            verb, made_mode = _WHOLE[sense]
            return [Deed(verb, made_mode if mode != "do_not" else "do", thing, clause) for thing in things or [None]]  # type: ignore[list-item]
        if sense == "use-tool":
            target = next((held for text, held in clause.preps if isinstance(held, Thing) and text in ("on", "for", "with")), None)
            if mode == "do_not" and target is not None:
                deed = Deed("tighten", mode, target, clause)
                deed.tool = things[0] if things else None
                return [deed]
            if clause.torques and target is not None:
                deed = Deed("tighten", mode, target, clause)
                deed.tool, deed.torques = things[0] if things else None, clause.torques
                return [deed]
            self._set_tool = things[0] if things else None
            return []
        if sense == "start-it":
            sense = "hand_start" if known is not None and known.kind in ("fastener", "threaded", "lock") else "start"
        return self._plain(clause, sense, mode, facts, things, known)

    def _plain(
        self, clause: Clause, sense: str, mode: str, facts: set[str], things: list[Thing], known: Thing | None
    ) -> list[Deed]:
        ambiguous = sense.endswith("?")
        if ambiguous:
            sense = "replace"
        if clause.lemma == "exceed":
            mode = "do" if clause.negated else mode
        if sense == "seat" and any(is_torque(word) for word in clause.torques):
            sense = "tighten"
        if sense == "tighten" and ("finger-tight" in facts or "hand" in facts and not clause.torques):
            sense = "seat"
        if sense == "hand_start" and mode == "do" and "finger-tight" in facts and "hand" not in facts:
            sense = "seat"
        targets = self._targets(clause, sense, things)
        made: list[Deed] = []
        pairs = paired(clause, targets) if sense in TIGHTENING or clause.torques else [(thing, []) for thing in targets]
        for thing, torques in pairs:
            verb = sense
            if sense == "install" and thing is not None and mode == "do_not" and thing.state == "old":
                verb = "reuse"
            elif sense == "install" and thing is not None and mode == "if" and thing.pronoun and thing.head == "one" and thing.state == "new":
                verb = "replace"
            if ambiguous:
                verb = "replace" if self._renewed(thing, known, mode) else "install"
            deed = Deed(verb, mode, thing, clause)
            deed.torques = torques
            if ambiguous and verb == "install":
                deed.doubt = "replace"
            self._dress(deed, clause, facts)
            made.append(deed)
        if sense == "clean" and made and self.deeds and self.deeds[-1].verb == "clean" and things and things[0].kind == "dirt" and not clause.preps:
            self.remarks.append(clause)
            return []  # "chase the threads and clean out the chips" is one cleaning
        if sense in _ONE_DEED:
            for deed in made[1:]:
                deed.counted = False
            if sense == "clean" and made and self.deeds and self.deeds[-1].verb == "clean" and things and things[0].pronoun:
                made[0].counted = False  # "clean them and blow them dry" is one cleaning
        extra = self._along(clause, sense, mode, made)
        made.extend(extra)
        if sense == "tighten" and "hand" in facts and clause.torques and made and any(text == "then" for text in (word.text for word in self.words[clause.first : clause.stop])):
            # "tighten by hand, then to 10 N·m"
            first = Deed("seat", mode, made[0].thing, clause)
            first.by_hand = True
            for deed in made:
                deed.by_hand = False
            made.insert(0, first)
        if sense == "install" and clause.torques and mode != "do_not":
            # "Fit 4 screws, 22 N·m": fitted, then tightened
            for deed in list(made):
                if deed.torques and deed.verb == "install":
                    tight = Deed("tighten", mode, deed.thing, clause)
                    tight.torques, deed.torques = deed.torques, []
                    holder = next((held for held in reversed(made) if held.thing is not None and held.thing.kind == "fastener"), None)
                    if tight.thing is None or tight.thing.kind != "fastener":
                        tight.thing = holder.thing if holder else tight.thing
                    tight.order = 0.2
                    made.append(tight)
        if sense == "tighten" and made and made[0].thing is not None and _is_jam(made[0].thing) and "against" in clause.particles:
            made.append(Deed("lock", mode, made[0].thing, clause))
        if sense == "install" and clause.lemma in ("fit", "insert", "install") and any(
            deed.thing is not None and deed.thing.kind == "lock" for deed in made
        ):
            nut = next((deed for deed in reversed(self.deeds) if deed.verb == "tighten"), None)
            if nut is not None:
                made.append(Deed("lock", mode, nut.thing, clause))
        return made

    def _renewed(self, thing: Thing | None, known: Thing | None, mode: str) -> bool:
        """Whether "replace" means a new piece: of a part that wears, under a condition, or of a damaged one. Else it
        may mean put back, and that is asked."""
        if mode == "if" or thing is None:
            return True
        real = known if thing.pronoun and known is not None else thing
        return real.kind in _RENEWED or thing.quantifier == "any" or thing.head == "any" or bool(set(thing.mods) & _DAMAGED)

    def _targets(self, clause: Clause, sense: str, things: list[Thing]) -> list[Thing | None]:
        if clause.lemma in ("secure", "fasten", "attach", "fix") and sense == "install":
            held = [held for text, held in clause.preps if isinstance(held, Thing) and text in ("with", "using", "by means of") and held.kind in ("fastener", "washer", "lock", "seal")]
            if held:
                return list(held)
        if sense == "check_leak" and things and things[0].kind == "soapy":
            things = []
        if sense in ("inspect", "check_leak") and not things:
            at = [held for text, held in clause.preps if isinstance(held, Thing) and text in ("at", "round", "around", "on", "for", "of", "over")]
            at = [thing for thing in at if thing.kind not in ("leakage", "damage", "soapy")]
            return [at[0]] if at else [None]
        if sense in ("refer", "repeat"):
            return [None]
        if sense in ("seal", "lubricate", "fill"):
            substance = ("lubricant", "compound", "fluid")
            kept = [thing for thing in things if thing.kind not in substance]
            if things and not kept:
                place = [held for text, held in clause.preps if isinstance(held, Thing) and text in ("to", "on", "onto", "over", "into", "in", "round", "around", "between")]
                return [place[0]] if place and sense != "fill" else (list(things) if sense == "fill" else [None])
            if sense != "fill" and kept:
                return list(kept)
        if sense == "clean" and things and things[0].kind in ("dirt", "fluid", "lubricant", "compound"):
            place = [held for text, held in clause.preps if isinstance(held, Thing) and text in ("from", "off", "out of", "of")]
            return [place[0]] if place else list(things[:1])
        if sense in TIGHTENING and not things:
            place = [held for text, held in clause.preps if isinstance(held, Thing) and text in ("on", "of", "for", "round", "around", "from", "over", "at") and held.kind not in ("tool", "measure", "document", "torque-label")]
            place = [thing for thing in place if thing.kind == "fastener"] or place
            if place:
                return [place[0]]
            return [None]
        things = [thing for thing in things if thing.head != "none" and not (thing.pronoun and thing.head in ("each", "all") and len(things) > 1 and thing is not things[0])]
        kept = [thing for thing in things if not (thing.kind in ("measure", "document") and len(things) > 1 and sense not in ("record", "measure"))]
        if sense in TIGHTENING:
            kept = [thing for thing in kept if not (thing.kind in ("feature", "measure") and thing.head in ("turn", "flat", "time", "pass", "quarter", "half", "round", "thread", "order", "pattern", "reading", "setting"))] or [None]  # type: ignore[list-item]
            return list(kept)
        if sense in ("wait", "run"):
            kept = [thing for thing in kept if thing.head not in ("minute", "second", "hour", "day", "time")]
        if sense in ("measure", "record", "check", "check_level", "inspect", "mark", "wait", "run", "start", "stop", "isolate"):
            return list(kept[:1]) or [None]
        return list(kept) or [None]

    def _dress(self, deed: Deed, clause: Clause, facts: set[str]) -> None:
        """Tools, substances, washers and hands."""
        deed.by_hand = bool({"hand", "fingers", "finger-tight"} & facts)
        for text, held in clause.preps:
            if isinstance(held, Word):
                if is_time(held):
                    deed.amount = held
                continue
            if held is None:
                continue
            if held.kind == "tool" and text in ("with", "using", "by means of", "by", "with the aid of", "in") and deed.tool is None:
                deed.tool = held
            elif held.kind in ("lubricant", "compound", "fluid", "soapy") and text in ("with", "in", "using", "of") and deed.verb not in ("run", "start", "check"):
                deed.substance = held
            elif held.kind == "washer" and text in ("with", "together with", "using", "over") or held.kind == "seal" and text in ("with", "together with", "using"):
                deed.washers.append(held)
        for thing in clause.objects:
            if thing.kind in ("lubricant", "compound", "fluid") and deed.thing is not thing:
                deed.substance = thing
        for word in clause.measures:
            if is_time(word) or deed.verb in ("fill", "run", "retighten"):
                deed.amount = word
        if deed.tool is None and self._set_tool is not None and deed.verb in ("tighten", "retighten"):
            deed.tool, self._set_tool = self._set_tool, None
        if "again" in clause.said:
            deed.again = True
        if "new" in clause.said and not deed.state:
            deed.state = "new"

    def _along(self, clause: Clause, sense: str, mode: str, made: list[Deed]) -> list[Deed]:
        """Things that come along with what is fitted: "with a new O-ring", "using the screws you took out"."""
        extra: list[Deed] = []
        if sense == "remove":
            for text, held in clause.preps:
                if isinstance(held, Thing) and text in ("with", "together with", "along with") and held.kind in ("fastener", "seal", "washer", "lock") and (held.definite or held.possessive):
                    extra.append(Deed("remove", mode, held, clause))
            return extra
        if sense not in ("install", "replace", "position", "connect") or clause.lemma in ("secure", "fasten", "attach", "fix") and any(
            deed.thing is not None and deed.thing.kind in ("fastener", "washer", "lock") for deed in made
        ):
            return extra
        used = {id(deed.thing) for deed in made}
        for text, held in clause.preps:
            if not isinstance(held, Thing) or id(held) in used or held.head == "none" or text not in ("with", "using", "together with", "along with", "as well as", "then"):
                continue
            if held.kind not in ("fastener", "washer", "seal", "lock", "consumable"):
                continue
            if held.kind == "washer" and held.plural and not held.state and held.count is None and not held.definite:
                continue
            verb = "install"
            remark = clause.remark
            if held.state == "old" and held.kind == "fastener" or (
                held.state != "new" and held.definite and any(word in remark for word in ("took", "removed", "taken", "previously", "earlier"))
            ):
                verb = "reuse"
            if sense == "replace" and text == "with":
                # "replace the screws with new ones": the same deed
                continue
            deed = Deed(verb, mode, held, clause)
            deed.order = 0.1 if held.kind == "fastener" else -0.1
            extra.append(deed)
        return extra

    # ---- other clauses --------------------------------------------------------------------------------------------

    def _conditional(self, clause: Clause) -> None:
        subject = clause.subject
        self._note_things(clause)
        if not clause.front:
            # behind its command: the last one only
            done = [deed for deed in self.deeds if deed.mode in ("do", "stated_passively") or deed.mode == "mentioned_only" and deed.clause.modal in _PERMITS]
            if done:
                last = done[-1].clause
                for deed in done:
                    if deed.clause is last:
                        deed.mode = "if"
            return
        self._condition = clause
        if subject is not None and clause.lemma == "be" and subject.kind not in ("leakage",) and (
            set(clause.said) & _DAMAGED or any(thing.head in _DAMAGED or set(thing.mods) & _DAMAGED for thing in clause.objects)
        ) and subject.text not in ("it", "they"):
            deed = Deed("inspect", "do", subject, clause)
            deed.order = -1.0
            self.deeds.append(deed)

    def _until(self, clause: Clause) -> None:
        if clause.torques and self.deeds:
            self.deeds[-1].torques.extend(clause.torques)
            self.deeds[-1].said = [*self.deeds[-1].said, "until"]
        elif self.deeds and self.deeds[-1].verb == "tighten" and not self.deeds[-1].torques and clause.lemma in ("click", "seat", "stop", "touch", "bottom", "contact"):
            self.deeds[-1].verb = "seat"
            self.deeds[-1].said = [*self.deeds[-1].said, "until it " + clause.lemma]
        if self.deeds and self.deeds[-1].verb == "seat" and self.deeds[-1].lemma == "leave" and self.deeds[-1].mode == "do":
            held = self.deeds[-1]
            later = Deed("tighten", "do_not", held.thing, held.clause)
            self.deeds.append(later)
        for thing in clause.objects + ([clause.subject] if clause.subject else []):
            if thing.kind not in ("document",):
                self._remember(thing) if False else None

    def _before(self, clause: Clause) -> None:
        """"Before tightening the gland to 12 N·m, start …": later in time than what it is said with."""
        if clause.role == "gerund":
            if not clause.pieces and not clause.preps:
                return  # "before mounting": a time, no more
            saved, self._condition = self._condition, None
            made = self._command(clause, base="do")
            self._condition = saved
            for deed in made:
                deed.order = 2.0
                deed.fronted = True
                if not clause.torques:
                    deed.mode = "mentioned_only"
            return
        if clause.role == "statement" and clause.subject is not None and clause.lemma == "go" and self.deeds:
            # "before it goes in"
            thing = clause.subject
            known = self.antecedent(thing, clause)
            if known is not None and known.kind in ("seal", "washer", "fastener", "lock", "consumable", "") and {"in", "on", "back"} & set(clause.particles):
                deed = Deed("install", "do", thing, clause)
                deed.order = 2.0
                self.deeds.append(deed)
            return
        if clause.role == "statement" and clause.verb is not None:
            made = self._passive(clause, "mentioned_only")
            for deed in made:
                deed.order = 2.0
            return
        self._note_things(clause)

    def _after(self, clause: Clause) -> None:
        if clause.role == "gerund":
            made = self._command(clause, base="stated_passively" if clause.torques else "mentioned_only")
            for deed in made:
                deed.order = -2.0
            return
        only = clause.link.startswith("only") or (bool(self.deeds) and "only" in self.deeds[-1].said)
        if clause.role == "statement" and clause.verb is not None and (clause.subject is not None or clause.tense == "participle"):
            if clause.lemma in ("go", "set", "cure", "cool", "dry", "harden", "settle") and ("off" in clause.particles or clause.lemma in ("cure", "cool", "dry", "harden", "settle", "set")):
                deed = Deed("wait", "do", clause.subject, clause)
                deed.order = -2.0
                self.deeds.append(deed)
                self._note_things(clause)
                return
            if clause.subject is None:
                self._note_things(clause)
                return
            made = self._passive(clause, "stated_passively" if only else "mentioned_only")
            for deed in made:
                deed.order = -2.0
            return
        if clause.role == "statement" and clause.lemma == "be" and set(clause.said) & {"cold", "cool", "dry", "hard"}:
            deed = Deed("wait", "do", clause.subject, clause)
            deed.order = -2.0
            self.deeds.append(deed)
        if clause.role == "fragment" and self.deeds and self.deeds[-1].verb == "tighten" and _settled(clause) and clause.link == "after":
            self.deeds[-1].verb = "retighten"
        self._note_things(clause)

    def _passive(self, clause: Clause, mode: str) -> list[Deed]:
        """A passive verb done to its subject."""
        subject = clause.subject
        if subject is None or "passive" not in clause.tense and clause.tense not in ("participle", "past", "perfect"):
            self._note_things(clause)
            return []
        known = self.antecedent(subject, clause) if subject.pronoun else None
        facts = facts_of(clause, known, [subject])
        if clause.lemma == "use" and subject.kind in ("lubricant", "compound", "fluid"):
            facts.add("lubricant" if subject.kind != "compound" else "compound")
        sense = sense_of(clause, facts)
        if clause.lemma in ("allow", "permit", "tolerate", "need", "require") and subject.kind in ("lubricant", "compound", "fluid"):
            sense = ("seal" if subject.kind == "compound" else "lubricate") if mode == "do_not" else "-"
        if sense in ("", "-", "use-tool"):
            self._note_things(clause)
            return []
        if sense in _WHOLE:
            verb, _ = _WHOLE[sense]
            made = [Deed(verb, "do_not" if mode != "mentioned_only" else mode, subject, clause)]
        else:
            whole = clause.objects
            thing = subject
            if sense in ("lubricate", "seal") and subject.kind in ("lubricant", "compound", "fluid"):
                place = [held for text, held in clause.preps if isinstance(held, Thing) and text in ("to", "on", "onto", "in", "over")]
                thing = place[0] if place else (whole[0] if whole else subject)
            sense = sense.rstrip("?")
            if sense == "tighten" and not clause.torques and {"hand", "finger-tight"} & facts:
                sense = "seat"
            if sense == "start-it":
                sense = "hand_start"
            deed = Deed(sense, mode, thing, clause)
            deed.torques = list(clause.torques)
            self._dress(deed, clause, facts)
            if thing is not subject:
                deed.substance = subject
            made = [deed, *self._along(clause, sense, mode, [deed])]
            for other in clause.brackets:
                if other.kind in ("compound", "lubricant", "fluid") and (other.kind == "compound") != (subject.kind == "compound") and sense in ("lubricate", "seal"):
                    made.append(Deed("seal" if other.kind == "compound" else "lubricate", mode, thing, clause))
        self._note_things(clause)
        self.deeds.extend(made)
        return made

    def _statement(self, clause: Clause) -> None:
        subject = clause.subject
        modal, tense = clause.modal, clause.tense
        if subject is None:
            self._note_things(clause)
            return
        mode = "stated_passively"
        if clause.negated:
            mode = "do_not"
        elif self._condition is not None:
            mode = "if"
        elif modal in _PERMITS or modal in ("will", "would"):
            mode = "mentioned_only"
        if "passive" in tense and subject.kind in ("measure", "running", "torque-label") and not clause.torques and clause.lemma not in (
            "record", "check", "recheck", "measure", "note", "enter", "write", "log", "verify", "confirm", "report",
        ):
            self.remarks.append(clause)
            self._note_things(clause)
            return
        if "passive" in tense:
            past = tense.startswith(("past", "perfect")) and modal not in _BINDING
            if past:
                mode = "mentioned_only"
            before = len(self.deeds)
            made = self._passive(clause, mode)
            if len(self.deeds) == before and not made:
                self.remarks.append(clause)
            return
        if subject.kind == "person" and clause.verb is not None and tense == "active" and not clause.negated:
            clause.role = "command"
            self._command(clause, base="stated_passively")
            return
        if clause.torques and any(is_torque(word) for word in clause.torques):
            self._stated_torque(clause, mode)
            return
        if clause.lemma == "come" and subject.kind in ("fastener", "lock", "seal", "washer", "") and {"off", "out", "away"} & set(clause.particles) and tense == "active":
            if clause.link != "that":
                self.deeds.append(Deed("remove", "do" if mode == "stated_passively" else mode, subject, clause))
            self._note_things(clause)
            return
        if clause.lemma in ("stay", "remain") and subject.kind in ("fastener", "lock", "seal", "washer") and ({"in", "on"} & set(clause.particles) or "in place" in clause.said):
            self.deeds.append(Deed("remove", "do_not", subject, clause))
            self._note_things(clause)
            return
        if clause.lemma == "go" and subject.kind in ("washer", "seal", "fastener", "lock") and {"in", "on", "under", "into", "onto", "over", "between", "back", "behind"} & set(clause.particles) and tense == "active":
            self.deeds.append(Deed("install", mode, subject, clause))
            self._note_things(clause)
            return
        if clause.lemma in ("want", "need", "require") and (subject.head == "you" or subject.kind in ("fastener", "threaded")) and any(
            thing.kind in ("washer", "seal", "lock", "fastener", "consumable") for thing in clause.objects
        ):
            for thing in clause.objects:
                if thing.kind in ("washer", "seal", "lock", "fastener", "consumable"):
                    self.deeds.append(Deed("install", mode if modal not in ("will", "would") else "stated_passively", thing, clause))
            self._note_things(clause)
            return
        if subject.kind == "person" and clause.verb is not None and tense == "active":
            clause.role = "command"
            self._command(clause, base="stated_passively")
            return
        if clause.negated and subject.kind in ("lubricant", "compound", "fluid") and clause.lemma in ("touch", "get", "come", "reach", "be", "go"):
            deed = Deed("lubricate" if subject.kind != "compound" else "seal", "do_not", next(iter(clause.objects), None), clause)
            if deed.thing is None:
                deed.thing = next((held for _, held in clause.preps if isinstance(held, Thing)), None)
            self.deeds.append(deed)
            self._note_things(clause)
            return
        if clause.lemma == "be" and modal in _BINDING and any(thing.state == "new" for thing in clause.objects) or (
            clause.lemma == "be" and modal in _BINDING and "new" in clause.said
        ):
            deed = Deed("install", mode, subject, clause)
            deed.state = "new"
            self.deeds.append(deed)
            self._note_things(clause)
            return
        if "reverse" in (thing.head for thing in clause.objects) or "reverse" in clause.said:
            self.deeds.append(Deed("repeat", "do", None, clause))
            return
        self.remarks.append(clause)
        self._note_things(clause)

    def _stated_torque(self, clause: Clause, mode: str) -> None:
        subject = clause.subject
        assert subject is not None
        self._note_things(clause)
        last = next((deed for deed in reversed(self.deeds) if deed.verb in TIGHTENING), None)
        if last is not None and subject.head == "there" and any(thing.head in ("limit", "maximum", "most") for thing in clause.objects):
            # "…; 120 N·m is the limit": the upper end of what was just demanded
            deed = Deed("limit", "do", last.thing, clause)
            deed.torques, deed.demanded = list(clause.torques), False
            self.deeds.append(deed)
            return
        if clause.purpose in _TURNED or subject.kind == "running" or subject.head in ("drag", "torque") and "running" in subject.mods or subject.head in ("drag", "preload"):
            deed = Deed("measure", "do", subject if subject.kind != "running" or subject.owner is None else subject.owner, clause)
            deed.torques = list(clause.torques)
            deed.demanded = False
            self.deeds.append(deed)
            return
        past = clause.tense == "past" or clause.modal in ("would", "could", "might")
        if past or subject.kind in ("tool", "measure", "machine", "load") and subject.kind != "torque-label" and clause.lemma not in ("be",):
            clause.remark = "mention"
            self.remarks.append(clause)
            return
        thing: Thing | None = subject
        if subject.kind in ("torque-label", "measure"):
            if subject.head in ("limit", "torque", "value", "figure", "setting", "maximum", "specification", "spec", "max"):
                thing = subject.owner or next((held for text, held in clause.preps if isinstance(held, Thing) and text in ("for", "of", "on")), None)
            else:
                self.remarks.append(clause)
                return
        if thing is not None and thing.kind in ("tool",):
            self.remarks.append(clause)
            return
        if subject.kind == "torque-label" or clause.lemma in _TORQUE_VERBS or thing is not subject:
            deed = Deed("tighten", "do_not" if mode == "do_not" and not clause.torques else ("if" if mode == "if" else "stated_passively"), thing, clause)
            deed.torques = list(clause.torques)
            self.deeds.append(deed)
            return
        self.remarks.append(clause)

    def _gerund(self, clause: Clause) -> None:
        if clause.tense == "to":
            self._note_things(clause)
            return
        if clause.tense == "having":
            for deed in self._command(clause, base="stated_passively"):
                deed.order = -2.0
            return
        if clause.link == "without" or clause.negated and clause.tense == "ing":
            if clause.lemma in ("use", "remove", "reuse", "loosen"):
                pass
            self._note_things(clause)
            return
        if clause.lemma in ("work", "start", "go", "take", "hold", "turn", "keep", "make", "leave", "move", "let", "allow", "alternate", "begin", "follow", "set", "watch", "observe", "stop", "proceed"):
            if self.deeds and clause.torques and not self.deeds[-1].torques:
                self.deeds[-1].torques.extend(clause.torques)
            elif clause.torques:
                self._waiting.extend(clause.torques)
            if self.deeds:
                self.deeds[-1].said = [*self.deeds[-1].said, *clause.said, *(held.text for _, held in clause.preps if isinstance(held, Thing))]
            else:
                self._fronted.append(clause)
            return
        if clause.lemma == "use" and clause.objects and clause.objects[0].kind == "tool":
            if self.deeds and not clause.front:
                self.deeds[-1].tool = self.deeds[-1].tool or clause.objects[0]
            else:
                self._set_tool = clause.objects[0]
                self._waiting.extend(clause.torques)
            return
        self._command(clause)

    def _phrase(self, clause: Clause) -> None:
        if any(text in ("in case of", "in the event of", "except for", "apart from") for text, _ in clause.preps):
            if clause.preps[0][0].startswith("in "):
                self._condition = clause
            self._note_things(clause)
            return
        held = next((thing for text, thing in clause.preps if isinstance(thing, Thing)), None)
        for said in clause.said:
            if said in ("supported", "hoisted", "propped", "slung", "held") and held is not None:
                deed = Deed("support", "do", held, clause)
                deed.order = -2.0
                self.deeds.append(deed)
        self._fronted.append(clause)
        for text, thing in clause.preps:
            if isinstance(thing, Thing) and thing.kind not in ("tool",):
                self._remember(thing)

    def _tail(self, clause: Clause) -> None:
        things = clause.objects or [held for _, held in clause.preps if isinstance(held, Thing)]
        last = self.deeds[-1] if self.deeds else None
        first = clause.said[0] if clause.said else ""
        for thing in things[:1]:
            if thing.kind in ("compound",):
                self.deeds.append(Deed("seal", "do_not", last.thing if last else None, clause))
            elif thing.kind in ("lubricant",) or thing.kind == "fluid" and thing.head == "oil" and first in ("no", "never", "not", "without"):
                if last is not None and last.verb in ("lubricate", "install", "clean", "tighten", "hand_start", "position", "seat"):
                    self.deeds.append(Deed("lubricate", "do_not", last.thing, clause))
            elif first == "without" and thing.kind in ("washer", "seal", "fastener", "lock") and last is not None and last.verb in FITTING:
                self.deeds.append(Deed("install", "do_not", thing, clause))
        if clause.torques and last is not None and last.verb in TIGHTENING:
            deed = Deed("limit", "do", last.thing, clause)
            deed.torques, deed.demanded = list(clause.torques), False
            self.deeds.append(deed)
        self._note_things(clause)

    def _participle(self, clause: Clause) -> None:
        last = self._last_fastened()
        if clause.verb is not None and last is not None:
            thing = last.thing
            for known in reversed(self.known):
                if known.kind == "fastener":
                    thing = known
                    break
            facts = facts_of(clause, thing, [])
            facts.add("fastener")
            sense = sense_of(clause, facts)
            if sense in ("hand_start", "seat", "tighten", "lubricate", "seal"):
                if sense == "tighten" and not clause.torques and "finger-tight" in facts:
                    sense = "seat"
                if sense == "lubricate" and not clause.objects and "hand" not in facts:
                    last.said = [*last.said, clause.verb.text]
                    return
                deed = Deed(sense, last.mode, thing, clause)
                deed.torques = list(clause.torques)
                self._dress(deed, clause, facts)
                # "its screws take 4 N·m, started by hand": first in time
                deed.order = -1.5 if sense == "hand_start" and last.verb in ("tighten", "seat") else 0.15
                self.deeds.append(deed)
                return
        if clause.torques and self.deeds:
            self._loose_torques(clause)
            return
        if self.deeds:
            self.deeds[-1].said = [*self.deeds[-1].said, *clause.said]
        elif clause.objects or clause.said:
            self._fronted.append(clause)

    def _last_fastened(self) -> Deed | None:
        return self.deeds[-1] if self.deeds else None

    def _fragment(self, index: int, clause: Clause) -> None:
        things = clause.objects
        torques = clause.torques
        following = self.clauses[index + 1] if index + 1 < len(self.clauses) else None
        if clause.link:
            self._note_things(clause)
            if torques and self.deeds and not self.deeds[-1].torques:
                self.deeds[-1].torques.extend(torques)
            return
        running = next((thing for thing in things if thing.kind == "running" or thing.head in ("drag", "preload")), None)
        if running is not None and torques:
            deed = Deed("measure", "do", running.owner or running, clause)
            deed.torques, deed.demanded = list(torques), False
            self.deeds.append(deed)
            self._note_things(clause)
            return
        label = next((thing for thing in things if thing.kind in ("torque-label", "measure") and thing.head in ("torque", "spec", "specification", "setting", "value", "figure", "limit", "values", "figures", "max")), None)
        if label is not None and torques:
            target = label.owner or next((held for text, held in clause.preps if isinstance(held, Thing) and text in ("for", "of", "on")), None)
            target = target or next((thing for thing in things if thing.kind in ("fastener", "threaded")), None)
            deed = Deed("tighten", "stated_passively", target, clause)
            deed.torques = list(torques)
            self.deeds.append(deed)
            self._note_things(clause)
            return
        if torques and _limits(torques[0]) and not things:
            self._limit(clause, torques)
            return
        tight = next((deed for deed in reversed(self.deeds) if deed.verb in TIGHTENING), None)
        joints = [thing for thing in things if thing.kind in ("fastener", "threaded") or thing.pronoun or thing.kind == "" and ":" in clause.said]
        if torques and joints:
            continued = tight is not None and tight.torques and not self._stopped(clause)
            for thing, held in paired(clause, list(joints)):
                mode = tight.mode if continued and tight is not None else "stated_passively"
                deed = Deed("tighten", mode if self._condition is None else "if", thing, clause)
                deed.torques = held or list(torques)
                self.deeds.append(deed)
            self._note_things(clause)
            return
        if torques:
            self._loose_torques(clause)
            self._new_things(clause, things)
            return
        if joints and any(said.startswith(("snug", "finger", "hand")) or said == "by hand" for said in clause.said):
            deed = Deed("seat", "stated_passively", joints[0], clause)
            deed.by_hand = True
            self.deeds.append(deed)
            self._note_things(clause)
            return
        if "snug" in (word.text for word in self.words[clause.first : clause.stop]) and joints:
            self.deeds.append(Deed("seat", "stated_passively", joints[0], clause))
            self._note_things(clause)
            return
        if following is not None and following.role == "command" and following.lemma in ("assemble", "fit", "install", "refit", "reassemble", "tighten", "remove") and not following.objects and things:
            following.pieces = [things[-1], *following.pieces]
            self._note_things(clause)
            return
        if self._new_things(clause, things):
            return
        self._note_things(clause)
        if clause.said == ["then"] or not things and not clause.preps and not clause.measures:
            return
        if things and things[0].kind in ("document",) and things[0].labels:
            return
        if any(is_time(word) for word in clause.measures) and not things:
            return
        self.loose.append(clause)

    def _limit(self, clause: Clause, torques: list[Word]) -> None:
        """"Do not exceed 1.5 N·m on the terminal screws": a limit, and where nothing else is said, the demand."""
        target = next((held for text, held in clause.preps if isinstance(held, Thing) and text in ("on", "for", "of", "at")), None)
        last = next((deed for deed in reversed(self.deeds) if deed.verb in TIGHTENING), None)
        if last is not None and target is None:
            deed = Deed("limit", "do", last.thing, clause)
            deed.demanded = False
        else:
            deed = Deed("tighten", "do" if self._condition is None else "if", target, clause)
        deed.torques = list(torques)
        self.deeds.append(deed)
        self._note_things(clause)

    def _stopped(self, clause: Clause) -> bool:
        return clause.first > 0 and any(word.text in ".;" for word in self.words[max(0, clause.first - 1) : clause.first])

    def _new_things(self, clause: Clause, things: list[Thing]) -> bool:
        """"…; new washer.": a part named with its state and no verb is fitted."""
        made = False
        for thing in things:
            if thing.state == "new" and thing.kind in ("washer", "seal", "lock", "fastener", "consumable"):
                deed = Deed("install", "do", thing, clause)
                deed.order = -1.5
                self.deeds.append(deed)
                self._remember(thing)
                made = True
        return made

    def _loose_torques(self, clause: Clause) -> None:
        """A figure on its own belongs to the last tightening that has none, or to what was just fitted."""
        torques = clause.torques
        if self.deeds and self.deeds[-1].verb == "check" and self.deeds[-1].thing is not None and self.deeds[-1].thing.kind == "fastener":
            # "check the bolts: 69 N·m" is a check of torque
            self.deeds[-1].verb = "retighten"
            self.deeds[-1].torques = list(torques)
            return
        for deed in reversed(self.deeds):
            if deed.verb in ("tighten", "seat", "retighten", "tighten_angle", "back_off"):
                if not deed.torques:
                    deed.torques = list(torques)
                    return
                if clause.then or "then" in clause.said:
                    deed.torques.extend(torques)
                    return
                break
            if deed.verb in ("install", "hand_start", "reuse", "replace"):
                tight = Deed("tighten", deed.mode, deed.thing, clause)
                for known in reversed(self.known):
                    if known.kind == "fastener":
                        tight.thing = known
                        break
                tight.torques = list(torques)
                tight.order = 0.2
                self.deeds.append(tight)
                return
        self._waiting.extend(torques)
        self.remarks.append(clause)

    def _settle(self) -> None:
        """What only shows once the whole sentence is known."""
        deeds = self.deeds
        for place, deed in enumerate(list(deeds)):
            place = deeds.index(deed)
            if deed.verb == "loosen" and any(is_angle(word) for word in deed.torques) and any(
                later.verb in ("tighten", "retighten") and later.mode == deed.mode for later in deeds[place + 1 :]
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
            if deed.verb == "tighten" and deed.torques and all(is_angle(word) for word in deed.torques) and deed.lemma in ("turn", "rotate", "advance"):
                deed.verb = "tighten_angle"


_FASTENING = frozenset("tighten torque hand-start nip snug seat slacken loosen screw unscrew retighten".split())
_PERHAPS = frozenset("start run spin wind turn".split())
_IFS = frozenset(
    ("if necessary", "if required", "if need be", "where necessary", "if possible", "if present", "if fitted", "where fitted",
     "if any", "if applicable", "if used", "as necessary", "as required")
)  # fmt: skip
_ONE_DEED = frozenset("clean lubricate inspect check mark seal".split())


def _settled(clause: Clause) -> bool:
    """Whether a time is that of a check after running: hours, days or distances, not minutes."""
    words = " ".join([word.text for word in clause.measures] + [thing.text for thing in clause.objects] + [held.text for _, held in clause.preps if held is not None])
    return any(unit in words.split() or words.endswith(unit) for unit in ("hours", "hour", "h", "km", "days", "day", "weeks", "week", "miles", "months", "run", "cycle", "cycles"))


def _limits(word: Word) -> bool:
    """Whether a figure is only a limit ("do not exceed 7 N·m")."""
    return word.found is not None and word.found.tightening.kind == "maximum"


_RENEWED = frozenset("seal washer lock consumable".split())


def _is_jam(thing: Thing) -> bool:
    return "jam" in thing.text or "lock nut" in thing.text or "locknut" in thing.text or "counter nut" in thing.text or "check nut" in thing.text


def paired(clause: Clause, targets: list[Thing | None] | list[Thing]) -> list[tuple[Thing | None, list[Word]]]:
    """Things with the figures that belong to them: each figure goes to the thing before it, or, where the figures
    come first, to the thing behind it. One thing of several parts keeps all figures."""
    wanted = {id(thing) for thing in targets if thing is not None}
    pieces = [piece for piece in clause.pieces if isinstance(piece, Word) or id(piece) in wanted]
    torques = [piece for piece in pieces if isinstance(piece, Word)]
    named = [piece for piece in pieces if isinstance(piece, Thing)]
    if len(named) < 2 or not torques:
        first: Thing | None = targets[0] if targets else None
        rest = list(targets[1:])
        return [(first, torques), *((thing, torques) for thing in rest)]
    result: list[tuple[Thing | None, list[Word]]] = []
    if isinstance(pieces[0], Word):
        held: list[Word] = []
        for piece in pieces:
            if isinstance(piece, Word):
                held.append(piece)
            else:
                result.append((piece, held))
                held = []
        if held and result:
            result[-1][1].extend(held)
        return result
    for piece in pieces:
        if isinstance(piece, Thing):
            result.append((piece, []))
        else:
            result[-1][1].append(piece)
    # "the cover and the lid to 9 N·m": things without a figure share the next one
    for place in range(len(result) - 2, -1, -1):
        if not result[place][1]:
            result[place][1].extend(result[place + 1][1])
    return result


__all__ = ["DOCUMENTS", "NOT_JOINTS", "Demands", "paired"]
