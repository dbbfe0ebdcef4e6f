"""What a chapter shows: its panel, its games, its questions and its list of sources."""
