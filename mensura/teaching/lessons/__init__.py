"""What a chapter asks: a prediction before anything moves, and exercises after."""
