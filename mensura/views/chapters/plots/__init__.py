"""The plots panel: a made-up stand from above, plots thrown on it, intervals against the truth."""

from mensura.teaching.panels.plots import CHOICES, CONTROLS, PRESETS, PlotsShown, numbers
from mensura.views.chapters.plots.picture import PlotsPicture
from mensura.views.chapters.plots.words import readout, status
from mensura.views.kit.panel import Panel

PLOTS_PANEL: Panel[PlotsShown] = Panel(
    title="Plots thrown on a stand",
    controls=CONTROLS,
    choices=CHOICES,
    numbers=numbers,
    picture=PlotsPicture,
    readout=readout,
    status=status,
    presets=PRESETS,
)
