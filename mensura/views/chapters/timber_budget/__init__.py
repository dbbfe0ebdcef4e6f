"""The timber budget: what makes a hectare's cubic metres unsure, and what to do better first."""

from mensura.teaching.panels.timber_budget import CONTROLS, PRESETS, TimberShown, numbers
from mensura.views.chapters.timber_budget.picture import TimberPicture
from mensura.views.chapters.timber_budget.words import readout, status
from mensura.views.kit.panel import Panel

TIMBER_BUDGET_PANEL: Panel[TimberShown] = Panel(
    title="From reading to timber: what to do first",
    controls=CONTROLS,
    numbers=numbers,
    picture=TimberPicture,
    readout=readout,
    status=status,
    presets=PRESETS,
)
