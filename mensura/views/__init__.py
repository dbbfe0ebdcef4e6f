"""Where people look: figures, live panels, questions, and the workbooks on the user's disk."""

from mensura.views.asking import Ask, ask
from mensura.views.live import Live, Picture, Still, draw_still
from mensura.views.panel import Control, Panel, Switch

__all__ = ["Ask", "Control", "Live", "Panel", "Picture", "Still", "Switch", "ask", "draw_still"]
