"""Sheets: single pages to print that no workbook is made of, such as an instrument's card."""
