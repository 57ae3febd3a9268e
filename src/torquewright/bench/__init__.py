"""The bench: plays a procedure through and remembers who sits where, done by which step."""

from torquewright.bench.play import play
from torquewright.bench.state import Event, JointTrack, Lot, Pull, Run, SealTrack, WasherOn
from torquewright.bench.trace import Running, Trace

__all__ = ["Event", "JointTrack", "Lot", "Pull", "Run", "Running", "SealTrack", "Trace", "WasherOn", "play"]
