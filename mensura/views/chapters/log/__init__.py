"""The log panel: a log of a known form, and what each rule for its volume makes of its readings."""

from mensura.teaching.panels.log import CHOICES, CONTROLS, PRESETS, LogShown, numbers
from mensura.views.chapters.log.picture import LogPicture
from mensura.views.chapters.log.words import readout, status
from mensura.views.kit.panel import Panel

LOG_PANEL: Panel[LogShown] = Panel(
    title="A log and four rules",
    controls=CONTROLS,
    choices=CHOICES,
    numbers=numbers,
    picture=LogPicture,
    readout=readout,
    status=status,
    presets=PRESETS,
)
