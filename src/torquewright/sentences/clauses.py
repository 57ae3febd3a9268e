"""A sentence taken apart into clauses: who is told to do what to what, with what, to which figure, and when.

The parts are found from left to right, each decision made once, with a look at the next words. What cannot be
placed is left unused and shows as left over.
"""

from __future__ import annotations

from torquewright.sentences import assertions, openings, word_order
from torquewright.sentences.imperatives import command
from torquewright.sentences.lexicon import (
    ADJ,
    ADV,
    AUX,
    BASE,
    CONJ,
    DET,
    FIGURE,
    ING,
    MODAL,
    NEG,
    NOUN,
    NUM,
    PART,
    PAST,
    PREP,
    PRON,
    PUNCT,
    QUANTITY,
    SUB,
)
from torquewright.sentences.look import Look
from torquewright.sentences.names import starts_thing, thing_at
from torquewright.sentences.predicates import verb_phrase
from torquewright.sentences.telegraphic import note_form
from torquewright.sentences.words import Word


class Parser(Look):
    """Takes one sentence apart. ``clauses`` holds the result in the order of the text, asides in brackets last."""

    def __init__(self, words: list[Word], first: int = 0, last: int | None = None) -> None:
        super().__init__(words, first, last)
        self._sentence()
        for start, end in self.asides:
            inner = Parser(words, start, end)
            for clause in inner.clauses:
                clause.remark = clause.remark or "aside"
            self.clauses.extend(inner.clauses)

    def _pended(self, at: int) -> int:
        """The clause that the one before has made way for."""
        kind, subject = self.pending, self.pending_subject
        self.pending, self.pending_subject = "", None
        count = len(self.clauses)
        if kind == "by":
            # the way it is done is itself done: "by removing the plug"
            end = openings.gerund(self, at, link="by")
            outer = self.clauses[count - 1]
            if outer.role == "tail" and outer.negated and not outer.pieces:
                self.clauses[count].negated = True  # "by tightening, never by slackening"
            return end
        if kind in ("command", "not"):
            end = command(self, at)
            if kind == "not":
                self.clauses[count].negated = not self.clauses[count].negated
            return end
        if subject is not None:
            inner = self.new("statement", at)
            inner.subject = subject
            end = assertions.finite(self, inner, at)
        else:
            end = assertions.named(self, at, True)
            outer, told = self.clauses[count - 1], self.clauses[count].subject
            if told is not None and not outer.pieces:
                outer.pieces.append(told)
        for clause in self.clauses[count:]:
            clause.link = clause.link or "that"
        return end

    def _sentence(self) -> None:
        at = self.first
        fresh = True
        then = False
        while at < self.length:
            word = self.words[at]
            flags = word.flags
            if flags & PUNCT:
                word.used = True
                ahead = self.clauses[-1] if self.clauses else None
                main = word.text == "," and ahead is not None and ahead.front and bool(ahead.link)
                fresh = fresh or word.text in ".;:!?—–(" or main  # "if it sticks, stop here"
                at += 1
                continue
            if flags & CONJ:
                word.used = True
                then = then or word.text == "then"
                if word.text == "nor":
                    at = max(self._tail_or_command(at, then), at + 1)
                    then = False
                else:
                    at += 1
                continue
            before = at
            at = self._clause(at, fresh, then)
            if at <= before:
                at = before + 1
            fresh = then = False

    def _clause(self, at: int, fresh: bool, then: bool) -> int:
        if self.pending:
            return self._pended(at)
        flags, text = self.flags(at), self.text(at)
        if text in ("otherwise", "else", "if not", "instead") and text != "instead":
            self.words[at].used = True
            clause = self.new("condition", at)
            clause.link, clause.front, clause.stop = "otherwise", True, at + 1
            return at + 1
        if text in ("have", "get") and fresh and starts_thing(self.words, at + 1):
            helper, end = thing_at(self.words, at + 1)
            if helper is not None and helper.kind == "person" and self.flags(end) & BASE:
                for index in range(at, end):
                    self.words[index].used = True
                return command(self, end)  # "have a helper steady the motor"
        if text in ("same", "ditto") and fresh and not starts_thing(self.words, at + 1):
            # "same again on the left side"
            clause = self.new("command", at)
            clause.verb, clause.lemma, clause.tense = self.words[at], "repeat", "command"
            self.words[at].used = True
            return verb_phrase(self, clause, at + 1)
        if text == "half" and fresh and self.flags(at + 1) & BASE and not self.flags(at + 1) & NOUN:
            self.words[at].used = True
            return command(self, at + 1, then)  # "half tighten the screws"
        if (
            text == "only"
            and self.text(at + 1) in ("then", "now", "thereafter", "afterwards")
            and self.flags(at + 2) & (MODAL | AUX)
        ):
            self.words[at].used = self.words[at + 1].used = True
            count = len(self.clauses)
            end = word_order.inverted(self, at + 2, negated=True)
            self.clauses[count].negated, self.clauses[count].modal = False, "must"
            return end  # "only then may the second nut be tightened"
        waits = bool(self.clauses) and self.clauses[-1].link in ("not until", "only after", "only when", "only once")
        if waits and flags & (MODAL | AUX) and starts_thing(self.words, at + 1):
            count = len(self.clauses)
            end = word_order.inverted(self, at, negated=True)
            self.clauses[count].negated, self.clauses[count].modal = False, "must"
            return end  # "not until the gasket has set may the bolts be tightened"
        if text in ("reuse", "re-use") and self.text(at + 1) == "of" and self.statement_at(at + 2):
            return word_order.deed_named(self, at)
        if text in _WAYS and fresh and self.text(at + 1) in ("come", "comes", "go", "goes"):
            return word_order.turned_about(self, at)
        if text in ("likewise", "similarly") and fresh and starts_thing(self.words, at + 1):
            thing, end = thing_at(self.words, at + 1)
            if thing is not None and end >= self.length - 1 and self.flags(end) & PUNCT:
                clause = self.new("command", at)  # "Likewise the rear one."
                clause.verb, clause.lemma, clause.tense = self.words[at], "repeat", "command"
                clause.pieces.append(thing)
                for word in self.words[at:end]:
                    word.used = True
                clause.stop = end
                return end
        if text == "should" and starts_thing(self.words, at + 1):
            return word_order.inverted(self, at)
        if flags & SUB or text in ("before", "after", "prior to"):
            return openings.subordinate(self, at)
        if flags & NEG or (text == "none" and self.flags(at + 1) & PREP and self.text(at + 1) != "of"):
            return self._tail_or_command(at, then)
        if (not self.command_at(at) or text in self.book.structure or self.compound_at(at)) and (
            end := note_form(self, at)
        ):
            return end
        if self.command_at(at, fresh):
            return command(self, at, then)
        if text in ("there", "here") and self.finite_at(at + 1) and not self.command_at(at + 1):
            return word_order.existential(self, at)
        if text in ("maximum", "minimum", "max", "min") and self.text(at + 1) == "torque":
            self.words[at].used = True
            return assertions.named(self, at + 1, fresh)  # "Maximum torque on the probe cap: 2.5 N·m"
        if flags & ADV and not (flags & NOUN and starts_thing(self.words, at) and self.statement_at(at)):
            # an adverb ahead of a command: "Then carefully lift", "Finally tighten"
            probe = at
            while self.flags(probe) & ADV and not self.command_at(probe) and probe < self.length:
                probe += 1
            if self.command_at(probe, True) or self.flags(probe) & NEG:
                for index in range(at, probe):
                    self.words[index].used = True
                said = [self.text(index) for index in range(at, probe)]
                end = self._clause(
                    probe, True, then or bool(set(said) & {"next", "now", "finally", "lastly", "afterwards"})
                )
                self.clauses[-1].said.extend(said)
                return end
            if probe > at and starts_thing(self.words, probe) and (self.statement_at(probe) or self.flags(probe) & DET):
                for index in range(at, probe):
                    self.words[index].used = True
                return self._clause(probe, True, then)
        if text == "setting" and self.text(at + 1) in ("for", "of"):
            return assertions.named(self, at, fresh)  # "Setting for the tie-rod nuts: 45 lbf·ft"
        if flags & ING and self._a_deed_as_subject(at):
            return word_order.existential(self, at)
        if flags & ING and not starts_with_name(self, at):
            return openings.gerund(self, at)
        if flags & ING and self.flags(at + 1) & (DET | PREP) and not self.statement_at(at):
            return openings.gerund(self, at)
        if text == "having" or (text == "to" and self.flags(at + 1) & BASE and not self.flags(at + 1) & NUM):
            return openings.gerund(self, at)
        if starts_thing(self.words, at) and (self.statement_at(at) or (flags & DET and not flags & PREP)):
            return assertions.named(self, at, fresh)
        if (flags & PREP and not flags & ADJ) or (flags & PREP and self.flags(at + 1) & DET):
            return openings.fronted(self, at)
        if starts_thing(self.words, at):
            return assertions.named(self, at, fresh)
        if flags & (QUANTITY | FIGURE):
            return openings.figure(self, at)
        if flags & (PAST | ADV | ADJ | PART):
            count = len(self.clauses)
            end = openings.trailing(self, at)
            self.clauses[count].then = then
            return end
        return at + 1

    def _a_deed_as_subject(self, at: int) -> bool:
        """Whether a word in -ing is what a statement is about: "over-tightening (the screws) will strip it"."""
        end = at + 1
        if starts_thing(self.words, end) and self.flags(end) & DET:
            _, end = thing_at(self.words, end)
        while end < self.length and self.flags(end) & ADV:
            end += 1
        return bool(self.flags(end) & (AUX | MODAL)) and self.text(end) not in ("having", "being")

    def _tail_or_command(self, at: int, then: bool) -> int:
        probe = at + 1
        while self.flags(probe) & ADV and not self.command_at(probe):
            probe += 1
        if self.text(at) in ("neither", "no", "nor") and starts_thing(self.words, at + 1) and self.text(at) != "no":
            return word_order.neither(self, at)
        if (
            self.flags(at + 1) & (MODAL | AUX)
            and not self.flags(at + 1) & NEG
            and starts_thing(self.words, at + 2)
            and self.text(at) not in ("no", "without")
        ):
            self.words[at].used = True
            return word_order.inverted(self, at + 1, negated=True)
        if self.text(at).endswith(("about", "of")) and self.flags(at + 1) & ING:
            return command(self, at, then)
        if self.text(at) == "no" and self.statement_at(at):
            return assertions.named(self, at, True)
        if self.command_at(probe, True) and self.text(at) not in ("no", "without"):
            return command(self, at, then)
        if self.text(at) in ("without", "avoid", "refrain from") or self.flags(probe) & ING:
            return openings.tail(self, at)
        return openings.tail(self, at)


_WAYS = frozenset("off out on in down up away back".split())


def starts_with_name(look: Look, at: int) -> bool:
    """Whether a word in -ing is part of a name here ("Bearing cap nuts: …")."""
    after = look.flags(at + 1)
    if after & (DET | PREP | PRON | ADV | PUNCT | CONJ) and not after & NOUN:
        return False
    thing, end = thing_at(look.words, at)
    if thing is None:
        return False
    return look.text(end) in (":", ",", "") or bool(look.flags(end) & QUANTITY) or look.finite_at(end)
