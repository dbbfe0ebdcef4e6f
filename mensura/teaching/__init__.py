"""What a class does: questions and predictions, before anything is drawn."""
