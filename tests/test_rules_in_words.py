"""Sound drafts in many manners against records that ask for something: what a sentence says must not be missed."""

from __future__ import annotations

import pytest

from torquewright.bench import play
from torquewright.reading.files import read_job
from torquewright.rules import detect

RULES = frozenset({
    "locking-device-missing", "castle-nut-backed-off", "threadlocker-missing", "cure-time-ignored", "retorque-missed",
    "raised-load-unsupported", "stored-energy-not-released", "tightening-order-missing", "fill-plug-not-tried-first",
    "tightened-at-wrong-condition", "leak-check-missing", "second-look-missing", "no-as-tightened-record",
})  # fmt: skip


def record(name: str, low: int, high: int, count: int, more: str, key: str = "") -> str:
    return (
        f'[[fastener]]\nid = "{key or name.replace(" ", "-")}"\nname = "{name}"\ncount = {count}\n'
        f'mating-material = "steel"\ntightening = "{low} to {high} N·m"\n{more}\n'
    )


RECORDS = {
    "pin": record("castle nut", 40, 55, 1, 'lock = { kind = "cotter pin", one-time-use = true }'),
    "wire": record("fan screw", 18, 22, 6, 'lock = { kind = "lockwire", one-time-use = true }'),
    "tab": record("vane nut", 70, 80, 1, 'lock = { kind = "tab washer", one-time-use = true }'),
    "compound": record("carrier bolt", 35, 41, 4, 'lock = { kind = "threadlocker", cure = "24 h" }'),
    "pressure": record("union nut", 40, 48, 1, 'energy = ["pressure"]'),
    "heat": record("head bolt", 22, 26, 6, 'energy = ["thermal", "pressure"]\npattern = "cross"'),
    "voltage": record("terminal nut", 8, 10, 2, 'energy = ["electrical"]\nkind = "terminal"'),
    "spring": record("spring nut", 13, 17, 2, 'energy = ["spring"]'),
    "load": record("carrier screw", 13, 17, 3, 'energy = ["gravity"]'),
    "wheel": record(
        "wheel nut", 81, 99, 5, 'retorque = { policy = "required", after = "50 km" }\npattern = "cross"'
    ),
    "oil": record("drain plug", 22, 28, 1, 'fluid = "oil"\nrole = "drain"')
    + record("fill plug", 22, 28, 1, 'fluid = "oil"\nrole = "fill"')
    + '[[fluid]]\nid = "oil"\nname = "gear oil"\n',
    "watched": record("brake bolt", 35, 41, 3, "safety = true\nindependent-check = true"),
    "cold": record(
        "head bolt", 22, 26, 6, 'tighten-when = "cold"\nretorque = { policy = "required", after = "first run" }'
    ),
}

ON = {
    "pressure": "Start the union nut by hand and tighten it to 44 N·m.",
    "voltage": "Start the terminal nuts by hand and tighten them to 9 N·m.",
    "spring": "Start the spring nuts by hand and tighten them to 15 N·m.",
    "load": "Start the carrier screws by hand and tighten them to 15 N·m.",
    "wheel": "Start the five wheel nuts by hand. Tighten them crosswise to 90 N·m.",
    "watched": "Start the three brake bolts by hand and tighten them to 38 N·m.",
    "cold": "Start the six head bolts by hand. Tighten them crosswise to 24 N·m.",
}
OFF = {
    "pressure": "Undo the union nut.", "voltage": "Remove the two terminal nuts.",
    "spring": "Remove the two spring nuts.", "load": "Remove the three carrier screws.",
}  # fmt: skip
GLUE = "Remove the four carrier bolts. Clean the threads."
WAIT = "Wait 24 hours."
RUN = "Run the winch."

DRAFTS: list[tuple[str, list[str]]] = [
    ("pin", ["Pull the cotter pin and throw it away. Remove the castle nut.",
             "Screw the castle nut on by hand and tighten it to 45 N·m.", "Fit a new cotter pin and spread its legs."]),
    ("pin", ["Remove the cotter pin and the castle nut. Discard the pin.",
             "Start the castle nut by hand. Torque it to 45 N·m. Insert a new split pin and bend its ends over."]),
    ("pin", ["Straighten and withdraw the split pin. Undo the castle nut.",
             "Refit the castle nut by hand, tighten to 45 N·m and secure it with a new split pin."]),
    ("pin", ["Remove the cotter pin and discard it. Remove the castle nut.",
             "Start the castle nut by hand and tighten it to 45 N·m. If the holes do not line up, go on to the next "
             "slot; do not back off.", "A new cotter pin shall be fitted and its legs bent."]),
    ("wire", ["Cut the lockwire and discard it. Remove the six fan screws.",
              "Start the six fan screws by hand and tighten them to 20 N·m.",
              "Wire the screws in pairs with new lockwire."]),
    ("wire", ["Snip the safety wire and throw it away. Take out the six fan screws.",
              "Refit the fan screws by hand, then tighten to 20 N·m. Safety-wire all six with new wire."]),
    ("tab", ["Bend back the tab. Remove the vane nut and the tab washer; discard the tab washer.",
             "Fit a new tab washer and the vane nut, start the nut by hand.",
             "Torque the vane nut to 75 N·m. Bend one tab against a flat."]),
    ("compound", [GLUE, "Apply threadlocker to the threads of the four carrier bolts.",
                  "Start the carrier bolts by hand and tighten them crosswise to 38 N·m.", WAIT, RUN]),
    ("compound", [GLUE, "Use threadlocker on the threads. Start the carrier bolts by hand.",
                  "Tighten the carrier bolts to 38 N·m. Let the threadlocker cure for 24 hours.", RUN]),
    ("compound", [GLUE, "Threadlocker goes on the threads of the carrier bolts. Start them by hand.",
                  "Tighten the carrier bolts to 38 N·m. Do not run the winch for 24 hours.", "Then run the winch."]),
    ("compound", [GLUE, "Put a drop of threadlocker on each carrier bolt, start the bolts by hand, then tighten them "
                  "to 38 N·m.", "Leave it overnight to cure.", RUN]),
    *(("pressure", [said, OFF["pressure"], ON["pressure"]]) for said in (
        "Open the drain cock until the gauge reads zero.", "Switch off and vent the receiver.",
        "Bleed the system down.", "Depressurise the line.", "Blow off the air.",
        "Shut both valves and let the water off.", "Make sure that there is no pressure in the pipe.",
        "Let the pressure down to zero.", "The line must be depressurised before work begins.",
        "Isolate the pump and lock it out.")),
    *(("heat", [said, "Remove the six head bolts.", f"Start the head bolts by hand. Tighten {how} to 24 N·m."])
      for said, how in (
        ("Switch off, open the drain cock until the gauge reads zero, and let the head cool.", "them crosswise"),
        ("Switch off and release the pressure. Wait until the head is cold.", "them in a star pattern"),
        ("Allow the compressor to cool down. Vent the tank.", "opposite bolts in turn"),
        ("With the compressor cold, vent the tank.", "diagonally"),
        ("Let the pressure off. Leave the head to cool.", "them criss-cross"))),
    *(("voltage", [said, OFF["voltage"], ON["voltage"]]) for said in (
        "Switch off the mains and lock it off.", "Disconnect the battery, negative lead first.",
        "Unplug the generator.", "Open the main breaker and prove the terminals dead.",
        "Check that the battery is out.", "Pull the fuse.", "Isolate the machine.")),
    *(("spring", [said, OFF["spring"], ON["spring"]]) for said in (
        "Let the brake spring off with the release screw.", "Relieve the spring.",
        "Unload the spring with the puller.", "Compress the spring with the spring clamp.",
        "Turn the release screw until the spring is slack.")),
    *(("load", [said, OFF["load"], ON["load"]]) for said in (
        "Pin the drum with the lock bar.", "Lower the bar to the floor and take the load off.",
        "Hang the carrier on the hoist.", "Support the carrier with a trestle.", "Put a block under the carrier.",
        "Hold the carrier.")),
    *(("wheel", [ON["wheel"], said]) for said in (
        "After 50 km check the wheel nuts again.", "Recheck the torque after 50 km.",
        "Tell the driver to have the nuts retorqued after 50 km.",
        "Torque the wheel nuts to 90 N·m again after 50 km.", "Drive 50 km and go over the wheel nuts at 90 N·m.",
        "Check torque after 50 km.")),
    ("oil", ["Remove the fill plug. Remove the drain plug and let the oil run out.",
             "Refit the drain plug by hand, then tighten it to 25 N·m.",
             "Fill with gear oil. Refit the fill plug by hand and tighten it to 25 N·m.",
             "Run the gearbox for 5 minutes.", "Check for leaks."]),
    ("oil", ["Crack the fill plug loose first, then drain the oil through the drain plug.",
             "Refit the drain plug by hand, then tighten it to 25 N·m.",
             "Take the fill plug out and fill with gear oil. Refit the fill plug by hand and tighten it to 25 N·m.",
             "Run the gearbox for 5 minutes and look for drips."]),
    ("oil", ["Check that the fill plug can be undone. Remove the drain plug and drain the gear oil.",
             "Refit the drain plug by hand, then tighten it to 25 N·m.",
             "Remove the fill plug and fill with gear oil. Refit the fill plug by hand and tighten it to 25 N·m.",
             "Run the gearbox for 5 minutes. Inspect both plugs: they must be dry."]),
    *(("watched", [ON["watched"], first, said]) for first, said in (
        ("Mark the bolts with paint.", "A second person checks the brake bolts."),
        ("Record the torque.", "Have a colleague check the bolts and sign."),
        ("Enter the torque in the log.", "The bolts shall be inspected by an independent inspector."),
        ("Paint a line across each bolt head.", "Ask a workmate to go over the bolts."),
        ("Write down the torque.", "Independent check: a second technician verifies all three bolts."),
        ("Sign the book.", "The foreman countersigns."))),
    *(("cold", [ON["cold"], "Run the compressor for 10 minutes.", said]) for said in (
        "Stop it and let it cool for an hour. Go round the head bolts once more at 24 N·m.",
        "When it is cold again, retighten the head bolts to 24 N·m.",
        "Next morning, retighten the head bolts to 24 N·m.",
        "After it has cooled, retighten the head bolts to 24 N·m.")),
]  # fmt: skip


@pytest.mark.parametrize(("what", "steps"), DRAFTS, ids=lambda held: held if isinstance(held, str) else held[0][:40])
def test_a_sound_draft_is_not_blamed(what: str, steps: list[str]) -> None:
    numbered = "\n".join(f"{at + 1}. {step}" for at, step in enumerate(steps))
    job = read_job("draft.md", text=f"+++\n{RECORDS[what]}+++\n\n# Job\n\n{numbered}\n")
    assert job.procedure is not None
    found = detect(play(job.procedure, job.catalogue, job.draft))
    assert [finding for finding in found if finding.rule in RULES] == []


MISSING = {
    "pin": ["Pull the cotter pin. Remove the castle nut.", "Start the castle nut by hand, tighten it to 45 N·m."],
    "wire": ["Cut the lockwire. Remove the six fan screws.", "Start the fan screws by hand, tighten them to 20 N·m."],
    "tab": ["Remove the vane nut and its tab washer.", "Start the vane nut by hand, tighten it to 75 N·m."],
    "compound": [GLUE, "Start the carrier bolts by hand and tighten them to 38 N·m.", WAIT, RUN],
    "pressure": ["Lay a rag under the pipe.", OFF["pressure"], ON["pressure"]],
    "voltage": ["Wear gloves.", OFF["voltage"], ON["voltage"]],
    "spring": ["Look at the spring.", OFF["spring"], ON["spring"]],
    "load": ["Look at the carrier.", OFF["load"], ON["load"]],
    "wheel": [ON["wheel"], "Fit the trim ring."],
    "watched": [ON["watched"], "Mark the bolts with paint.", "Wipe the brake."],
    "cold": [ON["cold"], "Run the compressor for 10 minutes.", "Then retighten the head bolts to 24 N·m."],
}


@pytest.mark.parametrize("what", MISSING)
def test_the_same_with_the_word_left_out_is_blamed(what: str) -> None:
    numbered = "\n".join(f"{at + 1}. {step}" for at, step in enumerate(MISSING[what]))
    job = read_job("draft.md", text=f"+++\n{RECORDS[what]}+++\n\n# Job\n\n{numbered}\n")
    assert job.procedure is not None
    found = detect(play(job.procedure, job.catalogue, job.draft))
    assert len([finding for finding in found if finding.rule in RULES]) == 1
