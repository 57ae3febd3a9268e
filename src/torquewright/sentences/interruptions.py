"""Where a clause is broken into: "Torque, using the small wrench, the screws to 3 N·m", "Fit – but do not pull – it".

What stands between the two commas or dashes is read as an aside; the clause goes on behind it.
"""

from __future__ import annotations

from torquewright.sentences.clause import Clause
from torquewright.sentences.lexicon import DET, NUM, QUANTITY, SUB
from torquewright.sentences.look import DASHES, Look
from torquewright.sentences.names import starts_thing


def interrupted(look: Look, clause: Clause, at: int, last: str) -> int:
    """Reads an aside that breaks into ``clause`` at ``at``; returns where the clause goes on, 0 where none stands."""
    close = look.aside_at(at)
    if not close or clause.verb is None or clause.role not in ("command", "statement"):
        return 0
    after = close + 1
    figure = look.text(after) in ("to", "at") and bool(look.flags(after + 1) & QUANTITY)
    within = any(look.flags(index) & QUANTITY for index in range(at + 1, close))
    if not last and not clause.objects:
        goes_on = bool(look.flags(after) & (DET | NUM)) and starts_thing(look.words, after)
        goes_on = goes_on and not look.statement_at(after) and not look.command_at(after)
    else:
        told = bool(look.flags(at + 1) & SUB) or look.text(at) in DASHES
        goes_on = figure and not within and told and not clause.torques
    if not goes_on:
        return 0
    look.words[at].used = look.words[close].used = True
    inside = at + 1
    if look.text(inside) == "but":
        look.words[inside].used = True
        inside += 1
    look.asides.append((inside, close))
    return after
