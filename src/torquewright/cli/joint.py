"""Work out what follows from a joint: preload, proof load, thread strip, pressure, tool setting.

Give the thread and what is known of the joint; say what drives it: a torque, a
preload, or a share of proof load or yield. Every figure comes with its range
and its source. Values carry their unit: "25 N·m", "16 mm", "140 MPa".

  torquewright joint "M8x1.25" --class 8.8 --torque "25 N·m"
  torquewright joint M8 --class 8.8 --torque "25 N·m" --into "aluminium die-cast" --engagement "14 mm"
  torquewright joint M10x1.5 --class 10.9 --share-of-yield 0.9 --friction-thread 0.12 --friction-head 0.12
  torquewright joint "1/2-13 UNC" --class "grade 5" --share-of-proof 75% --nut-factor 0.20
  torquewright joint M10 --class 8.8 --torque "48 N·m" --friction-thread "0.10 to 0.14" --tool-deviation 4%
  torquewright joint M10 --class 8.8 --torque "20 N·m + 90°" --length "60 mm"
  torquewright joint --record drain-screw catalogue.toml --svg drain-screw.svg

The figures are estimates for orientation. The value of the machine's maker
prevails, and so do local codes.

exit status: 0 worked out · 2 wrong command line · 3 a file cannot be read
"""

from __future__ import annotations

import sys
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from torquewright.cli import GO, NOT_READ, WRONG_COMMAND

if TYPE_CHECKING:
    from torquewright.joint.answer import Joint


def configure(parser: ArgumentParser) -> None:
    parser.add_argument("what", metavar="SIZE", help='the thread, "M8x1.25" or "3/8-16 UNC"; with --record the FILE')
    parser.add_argument("--record", metavar="ID", help="take the joint from this record of a catalogue FILE")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="for people or programs")
    parser.add_argument("--svg", metavar="FILE", help="draw where the preload lies between too loose and too much")

    drive = parser.add_argument_group("what drives it (one of)")
    drive.add_argument("--torque", metavar="TEXT", help='"25 N·m", "25 ± 2 N·m", "20 N·m + 90°"')
    drive.add_argument("--preload", metavar="FORCE", help='"17.4 kN", "9046 lbf"')
    drive.add_argument("--share-of-yield", metavar="SHARE", help="tension and torsion together use this: 0.9 or 90%%")
    drive.add_argument("--share-of-proof", metavar="SHARE", help="preload as a share of the proof load: 0.75 or 75%%")

    screw = parser.add_argument_group("the screw")
    screw.add_argument("--class", dest="property_class", metavar="CLASS", help='8.8, A2-70, "grade 5", A574')
    screw.add_argument("--nut-class", metavar="CLASS", help="8, 10, 12, 04, 05")
    heads = ("hex", "cap", "small flange", "heavy flange")
    screw.add_argument("--head", choices=heads, metavar="HEAD", help="hex, cap, small flange, heavy flange")
    screw.add_argument("--length", metavar="LENGTH", help="clamped length, head to engaged thread")
    screw.add_argument("--angle", metavar="ANGLE", help='a turn after the torque: "90°"')
    screw.add_argument("--running-torque", metavar="TORQUE", help="measured drag of a locking nut or screw")

    friction = parser.add_argument_group("friction")
    friction.add_argument("--condition", metavar="WORD", help="dry, oil, grease, moly, anti-seize, wax, threadlocker")
    friction.add_argument("--friction-thread", metavar="µ", help='coefficient in the thread: 0.12 or "0.10 to 0.14"')
    friction.add_argument("--friction-head", metavar="µ", help="the same under the head; as in the thread if not given")
    friction.add_argument("--nut-factor", metavar="K", help='K in T = K F d instead: 0.20 or "0.15 to 0.25"')
    friction.add_argument("--scatter", metavar="SHARE", help="stated scatter of preload either way: 25%%")

    around = parser.add_argument_group("around it")
    around.add_argument("--into", metavar="MATERIAL", help="tapped material: steel, cast iron, aluminium die-cast, ...")
    around.add_argument("--shear-strength", metavar="PRESSURE", help='of the tapped material, if known: "140 MPa"')
    around.add_argument("--engagement", metavar="LENGTH", help="engaged thread length")
    around.add_argument("--onto", metavar="MATERIAL", help="material under the head")
    around.add_argument("--bearing-diameter", metavar="LENGTH", help="outer diameter the head bears on")
    around.add_argument("--hole", metavar="LENGTH", help="hole under the head, the inner diameter it bears on")
    around.add_argument(
        "--washer", nargs="?", const="standard", metavar="DIAMETER", help="a plain washer, of its standard size or this"
    )

    tool = parser.add_argument_group("the tool")
    tool.add_argument("--tool-deviation", metavar="SHARE", help="permitted deviation: 4%%")
    tool.add_argument("--wrench", metavar="RANGE", help='its scale: "5 to 25 N·m"')
    tool.add_argument("--wrench-step", metavar="TORQUE", help="its scale division")
    tool.add_argument("--arm", metavar="LENGTH", help="drive to hand, for an adapter")
    tool.add_argument("--adapter", metavar="LENGTH", help="drive to fastener")
    tool.add_argument("--adapter-angle", metavar="ANGLE", help='0° straight on, 90° square, 180° turned back')


def run(args: Namespace) -> int:
    from torquewright.base.trouble import InputTrouble
    from torquewright.cli.joint_options import Refused, joint_of  # --help does without the readers

    try:
        joint, title = joint_of(args)
        return _answered(joint, title, args)
    except Refused as refused:
        sys.stderr.write(f"torquewright joint: {refused}\n")
        return WRONG_COMMAND
    except ValueError as contradiction:
        sys.stderr.write(f"torquewright joint: {contradiction}\n")
        return WRONG_COMMAND
    except InputTrouble as trouble:
        from torquewright.report.terminal import look_of
        from torquewright.report.text import trouble_lines

        sys.stderr.write("\n".join(trouble_lines(trouble, look_of(sys.stderr))) + "\n")
        return NOT_READ


def _answered(joint: Joint, title: str, args: Namespace) -> int:
    from torquewright.joint.working import compute

    answer = compute(joint)
    if args.svg:
        from torquewright.report.joint_sheet import svg

        try:
            with open(args.svg, "w", encoding="utf-8") as file:
                file.write(svg(answer, title))
        except OSError as fault:
            sys.stderr.write(f"torquewright joint: cannot write {args.svg}: {fault.strerror}\n")
            return WRONG_COMMAND
    if args.format == "json":
        from json import dump

        dump({"joint": title, **answer.as_dict()}, sys.stdout, ensure_ascii=False, indent=2)
        sys.stdout.write("\n")
        return GO
    from torquewright.report.joint_sheet import sheet
    from torquewright.report.terminal import look_of

    for line in sheet(answer, title, look_of(sys.stdout).width):
        sys.stdout.write(line + "\n")
    return GO
