"""Words that make a figure a limit: "not to exceed", "at least", "between", "about", "min.", "or less"."""

from __future__ import annotations

from torquewright.notation.phrases import phrases

# Before a figure.
LEADS = phrases(
    {
        "max": "not to exceed | not exceeding | do not exceed | don ' t exceed | must not exceed | shall not exceed | "
        "should not exceed | does not exceed | up to but not exceeding | up to and not exceeding | "
        "no torque greater than | never exceed | may not exceed | cannot exceed | without exceeding | "
        "to not exceed | not exceed | no more than | not more than | never more than | nor more than | "
        "but not more than | nor over | nor above | not any more than | not over | not above | no higher than | "
        "not higher than | no greater than | not greater than | nothing over | never over | never above | "
        "not beyond | do not go over | do not go above | do not go beyond | never go over | at most | "
        "at the most | at the very most | a maximum of | maximum of | maximum torque of | a maximum torque of | "
        "maximum torque | max torque | maximum | max | max of | a max of | up to a maximum of | up to a max of | "
        "up to no more than | up to but not over | up to but not more than | less than | under | below | "
        "fewer than | smaller than | lower than | ≤ | <= | < | limit | limit to | limited to | limit of | "
        "a limit of | upper limit | upper limit of | keep below | keep under | stay below | stay under | "
        "keep to under | nte | must be less than | must be below | must be under | must stay below | "
        "must stay under | no harder than | no tighter than | no further than | should be less than | no torque over | "
        "no torque above | ceiling of | a ceiling of | "
        "cap at | capped at",
        "upto": "up to",
        "min": "not less than | no less than | never less than | nor less than | not under | not below | never below | "
        "never under | no lower than | not lower than | no smaller than | at least | at the least | "
        "at the very least | a minimum of | minimum of | minimum torque of | a minimum torque of | "
        "minimum torque | min torque | minimum | min | min of | a min of | lower limit | lower limit of | "
        "more than | over | above | greater than | higher than | exceeding | in excess of | must exceed | "
        "must be at least | must be more than | must be over | must not be less than | must not be below | "
        "shall not be less than | should be at least | ≥ | >= | > | upwards of | a floor of",
        "about": "approximately | approx | some | about | around | roughly | circa | ca | c | ~ | nearly | near | "
        "in the region of | in the order of | of the order of | somewhere around | something like | near to | "
        "close to",
        "nominal": "nominal | nominally | a nominal | nominal torque | nom | exactly",
        "between": "between | anywhere between | somewhere between | any value between | from between",
        "from": "from | anywhere from | range from | ranging from | range | in the range of | in the range | "
        "in a range of | range of | a range of | within the range | within | within the range of | "
        "in the range from",
    }
)
# Right after a number that another number follows: "9 min. 11 max. N·m".
BESIDE = phrases({"min": "min | minimum | ( min ) | ( minimum )", "max": "max | maximum | ( max ) | ( maximum )"})
# After a figure with its unit.
AFTER = phrases(
    {
        "min": "min | minimum | , min | , minimum | ( min ) | ( minimum ) | [ min ] | min torque | minimum torque | "
        "or more | , or more | or beyond | , or beyond | or past | or above | or over | or greater | or higher | "
        "or better | and above | and over | "
        "and up | and upwards | upwards | at least | , at least | as a minimum | at the least | at minimum | "
        "or past that | , or past that | , not less | , no less | not less | no less | is the minimum | "
        "is a minimum | ( at least ) | ( not less )",
        "max": "max | maximum | , max | , maximum | ( max ) | ( maximum ) | [ max ] | max torque | maximum torque | "
        "or less | , or less | or below | or under | or lower | and below | at most | , at most | at the most | "
        ", at the most | tops | as a maximum | at maximum | , never more | never more | , no more | no more | "
        "and no more | , and no more | and not more | , not more | not more | and never more | , never over | "
        ", not over | is the limit | is the maximum | is a maximum | is the upper limit | , limit | limit | "
        "( limit ) | upper limit | ( at most ) | ( not more ) | ( no more ) | ( never more ) | ceiling | "
        "or lower | must not be exceeded | shall not be exceeded | should not be exceeded | may not be exceeded | "
        "not to be exceeded | ( do not exceed ) | ( not to exceed ) | , do not exceed | , not to be exceeded | "
        ", and not above | and not over | , must not be exceeded",
        "nominal": "nominal | nominally | ( nominal ) | nom | exactly",
        "about": "approx | approximately | ( approx ) | ( approximately ) | , approx | , approximately | or so | "
        "( about ) | , about | or thereabouts | roughly | ( nominally )",
    }
)
