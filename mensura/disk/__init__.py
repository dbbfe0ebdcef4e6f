"""What the user keeps: workbooks laid out, progress, pages saved. Whole files only, or none."""
