"""Sheets: the weight sheet as PDF and in the terminal, the sheets for the slate, and those of a lift plan.

`weight_sheet.weight_sheet_pdf`, `terminal.render_terminal`, `intake_slip.intake_slip_pdf`,
`measuring_card.measuring_card_pdf`, `slate_sheet.tape_sheet_pdf`, `slate_sheet.depth_sheet_pdf`; of a plan
`deck_sheet.deck_sheet_pdf`, `role_card.role_cards_pdf`,
`plan_file.plan_file_pdf` and `plan_terminal.render_plan`. The PDF compiler is loaded when a sheet is asked for.
"""

from oakum.report.cradle_sheet import cradle_sheet_pdf
from oakum.report.cradle_terminal import render_cradle
from oakum.report.deck_sheet import deck_sheet_pdf
from oakum.report.intake_slip import INTAKE_SLIP_FIELDS, IntakeSlip, intake_slip_pdf
from oakum.report.measuring_card import MEASURING_CARD_FIELDS, CardField, measuring_card_pdf
from oakum.report.pdf import SheetError
from oakum.report.plan_file import plan_file_pdf
from oakum.report.plan_terminal import render_plan
from oakum.report.role_card import role_cards_pdf
from oakum.report.slate_sheet import TapeLine, depth_sheet_pdf, tape_sheet_pdf
from oakum.report.terminal import render_terminal
from oakum.report.weight_sheet import weight_sheet_pdf

__all__ = [
    "INTAKE_SLIP_FIELDS",
    "MEASURING_CARD_FIELDS",
    "CardField",
    "IntakeSlip",
    "SheetError",
    "TapeLine",
    "cradle_sheet_pdf",
    "deck_sheet_pdf",
    "depth_sheet_pdf",
    "intake_slip_pdf",
    "measuring_card_pdf",
    "plan_file_pdf",
    "render_cradle",
    "render_plan",
    "render_terminal",
    "role_cards_pdf",
    "tape_sheet_pdf",
    "weight_sheet_pdf",
]
