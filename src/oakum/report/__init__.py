"""Sheets: the weight sheet as PDF and in the terminal, and the sheets for the slate.

`weight_sheet.weight_sheet_pdf`, `terminal.render_terminal`, `intake_slip.intake_slip_pdf` and
`measuring_card.measuring_card_pdf`; the PDF compiler is loaded when a sheet is asked for.
"""

from oakum.report.intake_slip import INTAKE_SLIP_FIELDS, IntakeSlip, intake_slip_pdf
from oakum.report.measuring_card import MEASURING_CARD_FIELDS, CardField, measuring_card_pdf
from oakum.report.pdf import SheetError
from oakum.report.terminal import render_terminal
from oakum.report.weight_sheet import weight_sheet_pdf

__all__ = [
    "INTAKE_SLIP_FIELDS",
    "MEASURING_CARD_FIELDS",
    "CardField",
    "IntakeSlip",
    "SheetError",
    "intake_slip_pdf",
    "measuring_card_pdf",
    "render_terminal",
    "weight_sheet_pdf",
]
