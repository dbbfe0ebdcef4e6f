"""Logs' volumes as plain tables, over and under bark, and what has to be said beside them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from textwrap import wrap

from mensura.checks import shown
from mensura.cli.errors_option import Told
from mensura.cli.printing import aligned, look_first
from mensura.disk.log_file import LogFile
from mensura.estimates.exactness import exactness
from mensura.estimates.log_points import POINT_RULES, LogVolumes, RuleVolume, between_points_percent
from mensura.estimates.log_rows import SCOPE_WORDS, solids_between_m3, total
from mensura.estimates.solids import LOG_RULES, SOLIDS
from mensura.estimates.stand_words import CAUTION
from mensura.written import signed

_WIDE = 80
#: So many logs are told one by one.
_MOST = 40
#: Two lines of heads.
_HEADS = (
    ("", "length", "Huber", "Smalian", "Newton", "quarter", "its", "by", ""),
    ("log", "m", "", "", "", "girth", "share %", "sections", "u"),
)
_NONE = "–"


def logs_lines(
    found: LogFile,
    logs: Sequence[LogVolumes],
    told: Told,
    slips: Sequence[str] = (),
    as_read: Sequence[LogVolumes] | None = None,
) -> list[str]:
    """Logs' volumes in short.

    found: the file; logs: its logs; told: the errors of the inputs; slips: what looks like one in
    the readings; as_read: the logs before anything was taken off, None where nothing was.
    """
    what = "girths" if found.column == "girth_cm" else "diameters"
    noun = "log" if len(logs) == 1 else "logs"
    lines = [f"{shown(found.name)}: {len(logs):,} {noun}, {found.rows:,} {what}"]
    lines += [*look_first(slips), ""] if slips else []
    for one in told.said:
        lines += wrap(one, _WIDE, subsequent_indent="  ")
    lines += [*_as_read_line(logs, as_read), ""] if as_read is not None else []
    lines += [*_paragraph(CAUTION), ""]
    barked = [one for one in logs if one.wood is not None]
    which = "corrected" if as_read is not None else "as read"
    title = f"Volumes {which}, m³"
    if barked:
        title = f"Volumes over bark{', corrected' if as_read is not None else ''}, m³"
    lines += [*_table(title, logs, [one.as_read for one in logs]), ""]
    if barked:
        wood = [one.wood for one in barked if one.wood is not None]
        lines += [*_table("Volumes under bark, m³", barked, wood), ""]
        if len(barked) < len(logs):
            lines += [f"No bark is told of {len(logs) - len(barked):,} of the logs.", ""]
    lines += [*_notes(logs, told.supposed), ""]
    return [*lines, *_solid_lines(logs, bool(barked)), "", *_exact_lines()]


def _as_read_line(logs: Sequence[LogVolumes], as_read: Sequence[LogVolumes]) -> list[str]:
    """What the volume by sections was before anything was taken off."""
    now, before = (total([one.as_read for one in some])["by_sections"] for some in (logs, as_read))
    if now is None or before is None:
        return []
    change = 100 * (now.volume_m3 / before.volume_m3 - 1)
    told = (
        f"By sections {_figure(before.volume_m3)} m³ as read and {_figure(now.volume_m3)} m³ "
        f"corrected, {signed(change, 2)} %; all figures below are the corrected ones."
    )
    lines = wrap(told.replace(" %", "\u00a0%"), _WIDE)
    return [line.replace("\u00a0", " ") for line in lines]


def _paragraph(text: str) -> list[str]:
    return wrap(text, _WIDE)


def _table(
    title: str, logs: Sequence[LogVolumes], volumes: Sequence[Mapping[str, RuleVolume | None]]
) -> list[str]:
    rows = [list(one) for one in _HEADS]
    for log, one in list(zip(logs, volumes, strict=True))[:_MOST]:
        rows.append([log.points.log, f"{log.points.length_m:.2f}", *_cells(one)])
    if len(logs) > 1:
        length = sum(one.points.length_m for one in logs)
        rows.append(["together", f"{length:.2f}", *_cells(total(volumes))])
    lines = aligned(rows, right=range(1, len(rows[0])))
    if len(logs) > _MOST:
        lines.insert(-1, f"… {len(logs) - _MOST:,} more, all of them in --json")
    return [title, *lines]


def _cells(volumes: Mapping[str, RuleVolume | None]) -> list[str]:
    cells = [_figure(one.volume_m3) if (one := volumes[rule]) else _NONE for rule in POINT_RULES]
    quarter, sections = volumes["quarter_girth"], volumes["by_sections"]
    share = 100 * quarter.volume_m3 / sections.volume_m3 if quarter and sections else None
    cells.insert(4, _NONE if share is None else f"{share:.1f}")
    return [*cells, _figure(sections.u_m3 if sections else None)]


def _figure(value: float | None) -> str:
    return _NONE if value is None else f"{value:.4f}"


def _notes(logs: Sequence[LogVolumes], made_up: bool) -> list[str]:
    without = [one.points.log for one in logs if one.as_read["huber"] is None]
    said: list[str] = []
    if without:
        some = ", ".join(without[:8]) + (" …" if len(without) > 8 else "")
        which = f"log {some} has" if len(without) == 1 else f"logs {some} have"
        said.append(
            f"{_NONE} stands where a rule needs a section in the middle, within 1 % of the length: "
            f"{which} none."
        )
    if len(without) < len(logs):
        said.append(
            "Quarter girth is a rule of trade, not the wood that is there: π/4, 78.54 %, of "
            "Huber's volume from the same girth. Its share is of the volume by sections."
        )
    whose = "made-up sizes (--errors-new writes them to a file)" if made_up else "the errors told"
    said.append(
        f"u is one standard uncertainty of the volume by sections, from {whose}: two volumes in "
        "three lie within it, nineteen in twenty within twice. It holds the readings' errors only; "
        "sections are taken for circles."
    )
    said.append(SCOPE_WORDS)
    whole = total([one.as_read for one in logs])["by_sections"]
    if len(logs) > 1 and whole is not None and whole.u_m3 > 0:
        said.append(
            f"Together: {_figure(whole.u_common_m3)} m³ of u is shared by all logs and does not "
            f"average out; {_figure(whole.new_m3)} m³ is new for each log or reading, and does."
        )
    wood = [one.wood for one in logs if one.wood is not None]
    bare = total(wood)["by_sections"] if len(wood) == len(logs) else None
    if whole is not None and bare is not None:
        share = 100 * (1 - bare.volume_m3 / whole.volume_m3)
        said.append(f"Bark is {share:.1f} % of the volume by sections.")
    worst = max(logs, key=lambda one: between_points_percent(one.points))
    percent = between_points_percent(worst.points)
    if percent >= 0.005:
        said.append(
            "By sections the area runs straight from point to point. If the sides do, it is "
            f"less, by {percent:.2f} % in {worst.points.log}, where it matters most: more points "
            "make that smaller."
        )
    return [line for one in said for line in _paragraph(one)]


def _solid_lines(logs: Sequence[LogVolumes], barked: bool) -> list[str]:
    title = "Exact solids on each log's two ends, m³" + (" over bark" if barked else "")
    names = [name for name in SOLIDS if name != "cylinder"]
    rows = [["log", *names, "by sections"]]
    for log in logs[:_MOST]:
        across = log.points.diameter_cm
        solids = solids_between_m3(float(across[0]), float(across[-1]), log.points.length_m)
        sections = log.as_read["by_sections"]
        cells = [_figure(solids[name]) for name in names]
        rows.append([log.points.log, *cells, _figure(sections.volume_m3 if sections else None)])
    return [title, *aligned(rows, right=range(1, len(rows[0])))]


def _exact_lines() -> list[str]:
    rows = [["Error on a whole solid, %", *SOLIDS]]
    for one in map(exactness, LOG_RULES):
        cells = [
            "exact" if value == 0 else signed(float(value), 0)
            for value in one.whole_solid_percent.values()
        ]
        rows.append([one.rule.capitalize(), *cells])
    return [
        *aligned(rows, right=range(1, len(rows[0]))),
        *_paragraph(
            "Why: the area of a cylinder is the same all along, a paraboloid's grows as the "
            "distance from the tip, a cone's as its square, a neiloid's as its cube. Huber and "
            "Smalian are right up to the first power, Newton up to the third. For any other form "
            "more sections bring each rule nearer."
        ),
    ]
