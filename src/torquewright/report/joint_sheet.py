"""The computation sheet of one joint: figures in both unit systems with their sources, and a picture of the preload
between too loose and too much, as text or SVG."""

from __future__ import annotations

from torquewright.base.figures import neat
from torquewright.base.units import from_si
from torquewright.joint.answer import CAUTION, KEYS, Answer, Figure

_LABELS = {
    "stress_area_mm2": "stress area",
    "preload_n": "preload",
    "torque_nm": "torque",
    "proof_load_n": "proof load",
    "share_of_proof": "share of proof load",
    "torque_at_proof_nm": "torque at proof load",
    "preload_at_90_percent_of_yield_n": "preload at 90 % of yield",
    "torque_at_90_percent_of_yield_nm": "torque at 90 % of yield",
    "yield_load_n": "yield load",
    "breaking_load_n": "breaking load",
    "stress_tension_mpa": "tension",
    "stress_torsion_mpa": "torsion",
    "stress_combined_mpa": "combined stress",
    "share_of_yield": "share of yield strength",
    "nut_factor": "nut factor",
    "strip_load_internal_n": "tapped thread strips at",
    "strip_load_external_n": "bolt thread strips at",
    "engagement_needed_mm": "engagement needed",
    "nut_proof_load_n": "nut proof load",
    "bearing_area_mm2": "bearing area",
    "bearing_pressure_mpa": "pressure under the head",
    "bearing_limit_mpa": "pressure the part takes",
    "elongation_mm": "stretch by the turn",
    "preload_by_angle_n": "preload after the turn",
    "wrench_torque_with_drag_nm": "torque with running drag",
    "wrench_setting_nm": "wrench setting",
}
_LIMIT_KEYS = frozenset({"preload_low_n", "preload_high_n", "arriving_torque_low_nm", "arriving_torque_high_nm"})
# Where joints that are undone again are usually tightened to: common practice, no source.
_USUAL = 0.75


def _figure(key: str, value: float, beside: float | None = None) -> tuple[str, str]:
    """A value in the metric unit and in the inch one ("" where it has no unit). ``beside`` is the figure it stands
    with, which decides the unit."""
    if key.endswith("_nm"):
        # small torques are read on lbf·in scales
        inch = "lbf·in" if (value if beside is None else beside) < 20 else "lbf·ft"
        return f"{neat(value)} N·m", f"{neat(from_si(value, inch))} {inch}"
    if key.endswith("_n"):
        large = (value if beside is None else beside) >= 1000
        metric = f"{neat(value / 1e3)} kN" if large else f"{neat(value)} N"
        return metric, f"{neat(from_si(value, 'lbf'))} lbf"
    if key.endswith("_mpa"):
        return f"{neat(value)} MPa", f"{neat(from_si(value * 1e6, 'psi'))} psi"
    if key.endswith("_mm2"):
        return f"{neat(value)} mm²", f"{neat(value / 645.16)} in²"
    if key.endswith("_mm"):
        return f"{neat(value)} mm", f"{neat(value / 25.4)} in"
    if key.startswith("share"):
        return f"{neat(value * 100)} %", ""
    return neat(value), ""


def _shown(figure: Figure) -> str:
    metric, inch = _figure(figure.key, figure.value)
    text = f"{metric} ({inch})" if inch else metric
    if figure.low is not None and figure.high is not None and figure.high > figure.low:
        low, high = (_figure(figure.key, end, figure.value) for end in (figure.low, figure.high))
        text += f", {low[0]} to {high[0]}"
        if inch:
            text += f" ({low[1]} to {high[1]})"
    return text


def _wrapped(text: str, margin: str, columns: int) -> list[str]:
    from textwrap import wrap  # only a sheet for people needs it

    return wrap(text, columns, initial_indent=margin, subsequent_indent=margin + "  ", break_long_words=False)


def sheet(answer: Answer, title: str, columns: int = 100) -> list[str]:
    """The sheet as lines of text, at most ``columns`` wide where words allow: the figures with the numbers of their
    sources, the picture, what follows, what was assumed, what could not be worked out, the sources, the caution."""
    lines = [title, ""]
    margin = max(len(label) for label in _LABELS.values()) + 4
    sources: list[str] = []
    for key in KEYS:
        figure = answer.figures.get(key)
        if figure is None or key in _LIMIT_KEYS:
            continue
        numbers = []
        for source in figure.source.split("; "):
            if source not in sources:
                sources.append(source)
            numbers.append(str(sources.index(source) + 1))
        doubt = "" if figure.firm else " (from memory in part)"
        lines.append(f"  {_LABELS[key]:<{margin - 4}}  {_shown(figure)}")
        lines += _wrapped(f"{figure.how} [{', '.join(numbers)}]{doubt}", " " * margin + "  ", columns)
    drawn = picture(answer)
    if drawn:
        lines += ["", *drawn]
    for heading, told in (("what follows:", answer.remarks), ("assumed:", answer.assumed)):
        if told:
            lines += ["", heading]
            for one in told:
                lines += _wrapped(one, "  ", columns)
    missing: dict[str, list[str]] = {}
    for key, why in answer.missing.items():
        if key not in answer.figures and key in _LABELS:
            missing.setdefault(why, []).append(_LABELS[key])
    if missing:
        lines += ["", "not worked out:"]
        for why, labels in missing.items():
            lines += _wrapped(f"{', '.join(labels)}: {why}", "  ", columns)
    lines += ["", "sources:"]
    for number, source in enumerate(sources, 1):
        lines += _wrapped(f"[{number}] {source}", "  ", columns)
    return [*lines, "", *_wrapped(CAUTION, "", columns)]


class _Scale:
    """Where a load lies on a picture that runs from 0 to a little beyond what matters."""

    def __init__(self, answer: Answer) -> None:
        preload = answer.figures["preload_n"]
        self.low = preload.low if preload.low is not None else preload.value
        self.high = preload.high if preload.high is not None else preload.value
        self.aimed = preload.value
        top = max(self.high, answer.limits[0].load)
        # limits far beyond everything else would squeeze the rest into a corner
        self.limits = [limit for limit in answer.limits if limit.load <= 1.6 * top or limit.name == "proof load"]
        self.end = 1.08 * max(self.high, *(limit.load for limit in self.limits))
        proof = answer.get("proof_load_n")
        self.usual = _USUAL * proof if proof is not None and _USUAL * proof < self.end else None

    def at(self, load: float, cells: int) -> int:
        return min(cells - 1, max(0, round(load / self.end * (cells - 1))))


def picture(answer: Answer, cells: int = 64) -> list[str]:
    """A line from too loose to too much: ``[``…``#``…``]`` the preload that can arrive, letters the limits, ``u`` the
    usual aim. Empty where there is no preload or no limit to set it against."""
    if "preload_n" not in answer.figures or not answer.limits:
        return []
    scale = _Scale(answer)
    line = ["-"] * cells
    low, high = scale.at(scale.low, cells), scale.at(scale.high, cells)
    line[low : high + 1] = ["="] * (high + 1 - low)
    line[low], line[high] = "[", "]"
    line[scale.at(scale.aimed, cells)] = "#"
    marks = [" "] * cells
    arriving = f"{_shown_load(scale.low)} to {_shown_load(scale.high)} can arrive"
    legend = [f"[ ] {arriving}, # {_shown_load(scale.aimed)} aimed at"]
    if scale.usual is not None:
        marks[scale.at(scale.usual, cells)] = "u"
        legend.append(
            f"u   {_shown_load(scale.usual)} usual aim for joints that are undone again: 75 % of the proof load "
            "(common practice, no source)"
        )
    for letter, limit in zip("ABCDEFGH", scale.limits, strict=False):
        cell = scale.at(limit.load, cells)
        while cell < cells - 1 and marks[cell] not in (" ", "u"):
            cell += 1  # limits that fall together stand side by side
        marks[cell] = letter
        doubt = "" if limit.firm else " (from memory in part)"
        legend.append(f"{letter}   {_shown_load(limit.load)} {limit.name}{doubt}")
    ends = f"too loose{'too much':>{cells - 9}}"
    return [f"  {ends}", f"  {''.join(line)}", f"  {''.join(marks)}", *(f"  {one}" for one in legend)]


def _shown_load(load: float) -> str:
    metric, inch = _figure("_n", load)
    return f"{metric} ({inch})"


def svg(answer: Answer, title: str) -> str:
    """The same picture as an SVG document; a plain sentence where there is nothing to draw."""
    from xml.sax.saxutils import escape  # drawing is the only use, and it is not the common one

    if "preload_n" not in answer.figures or not answer.limits:
        body = '<text x="20" y="40">No preload, or no limit to set it against.</text>'
        return _document(escape(title), "nothing to draw", 60, body)
    scale = _Scale(answer)
    left, wide = 20.0, 680.0

    def x(load: float) -> float:
        return left + wide * load / scale.end

    first = x(scale.limits[0].load)
    parts = [
        f'<rect x="{left}" y="70" width="{first - left:.1f}" height="26" fill="#dfe7ef"/>',
        f'<rect x="{first:.1f}" y="70" width="{left + wide - first:.1f}" height="26" fill="#f3d3cf"/>',
        f'<rect x="{x(scale.low):.1f}" y="74" width="{x(scale.high) - x(scale.low):.1f}" height="18" fill="#4d8f5b"/>',
        f'<line x1="{x(scale.aimed):.1f}" x2="{x(scale.aimed):.1f}" y1="66" y2="100" stroke="#000" stroke-width="2"/>',
        f'<text x="{left}" y="62">too loose</text>',
        f'<text x="{left + wide}" y="62" text-anchor="end">too much</text>',
    ]
    told = [f"{_shown_load(scale.low)} to {_shown_load(scale.high)} can arrive, {_shown_load(scale.aimed)} aimed at"]
    for letter, limit in zip("ABCDEFGH", scale.limits, strict=False):
        at = x(limit.load)
        parts.append(f'<line x1="{at:.1f}" x2="{at:.1f}" y1="70" y2="104" stroke="#a3271b" stroke-width="1.5"/>')
        parts.append(f'<text x="{at:.1f}" y="{118 if letter in "ACEG" else 132}" text-anchor="middle">{letter}</text>')
        told.append(f"{letter}  {_shown_load(limit.load)}  {limit.name}")
    y = 158
    for one in told:
        parts.append(f'<text x="{left}" y="{y}">{escape(one)}</text>')
        y += 18
    caution = "Estimate for orientation; the maker's value prevails."
    parts.append(f'<text x="{left}" y="{y + 6}" font-size="11">{caution}</text>')
    return _document(escape(title), escape("; ".join(told)), y + 20, "\n  ".join(parts))


def _document(title: str, told: str, height: int, body: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="720" height="{height}" viewBox="0 0 720 {height}" '
        f'font-family="sans-serif" font-size="13" role="img">\n'
        f"  <title>{title}</title>\n  <desc>{told}</desc>\n"
        f'  <rect width="720" height="{height}" fill="#fff"/>\n'
        f'  <text x="20" y="28" font-size="16">{title}</text>\n  {body}\n</svg>\n'
    )
