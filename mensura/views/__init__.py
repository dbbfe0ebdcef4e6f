"""Where people look: figures, live panels and the workbooks on the user's disk."""
