"""Words between two pulls: "then", "followed by", arrows, which order them; commas and "and", which do not."""

from __future__ import annotations

from torquewright.notation.phrases import phrase_at, phrases
from torquewright.notation.spelling import Token

STRONG = phrases(
    {
        "then": "then | , then | and then | , and then | ; then | . then | followed by | , followed by | → | -> | => | "
        "--> | finally | and finally | , and finally | , finally | lastly | and lastly | , and lastly | next | "
        ", next | and next | after that | , after that | afterwards | , afterwards | subsequently | "
        ", subsequently | thereafter | and thereafter | , before | > | >> | and after that | ; finally | "
        "; afterwards | ; next | ; after that",
        "plus": "+ | plus | , plus | angle | torque angle | , angle | and angle | ; angle | and a further | "
        "and another | and an additional | with a further | with an additional | , + | & a further",
    }
)
WEAK = phrases({"and": "and | & | , and | , | ; | / | with | ; and | - | | | as well as"})


def strong_at(toks: list[Token], i: int) -> tuple[str, int] | None:
    """A word at ``i`` that puts what follows after what went before: "then" or "plus", and the index after it."""
    return phrase_at(toks, i, STRONG)
