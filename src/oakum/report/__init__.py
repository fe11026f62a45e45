"""Sheets: the weight sheet as PDF and in the terminal, and the sheets for the slate.

`weight_sheet_pdf`, `render_terminal`, `intake_slip_pdf`, `measuring_card_pdf` in the modules of their names.
"""
