"""Each panel's state → numbers; nothing here draws."""
