"""Marks, readings and what must be known of both as CSV: UTF-8, a head with units, decimal points, empty: not known."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from oakum.desk.seabed.exports import SiteExport

_LOOKS_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
MARKS_HEAD = (
    "mark", "what", "find", "title", "x_m", "y_m", "z_m", "sd_x_m", "sd_y_m", "sd_z_m",
    "cov_xx_m2", "cov_xy_m2", "cov_xz_m2", "cov_yy_m2", "cov_yz_m2", "cov_zz_m2",
    "ellipse_major_m", "ellipse_minor_m", "ellipse_bearing_deg", "ellipse_inside", "held", "readings", "grid", "remark",
)  # fmt: skip
READINGS_HEAD = (
    "reading", "kind", "part", "mark_1", "mark_2", "mark_3", "as_written", "unit", "value", "sd",
    "plan_less_reading", "redundancy", "w", "counted", "doubt", "instrument", "dive", "seen_at",
)  # fmt: skip


def marks_csv(export: SiteExport) -> bytes:
    """Return one line a mark."""
    return _written(
        MARKS_HEAD,
        (
            (
                one.name, one.what, one.number, one.title,
                *(f"{v:.4f}" for v in (*one.place_m, *one.sd_m)),
                *(f"{v:.4e}" for v in one.cov_m2),
                f"{one.ellipse.major_m:.4f}", f"{one.ellipse.minor_m:.4f}", f"{one.ellipse.bearing_deg:.1f}",
                f"{one.ellipse.inside:g}", one.held, str(one.readings), "local", one.remark,
            )
            for one in export.marks
        ),
    )  # fmt: skip


def readings_csv(export: SiteExport) -> bytes:
    """Return one line a number read; a bearing is in degrees, everything else in metres."""
    return _written(
        READINGS_HEAD,
        (
            (
                one.id, one.kind, one.part, *(*one.marks, "", "", "")[:3], one.text, one.unit,
                f"{one.value:.4f}", f"{one.sd:.4f}", f"{one.residual:.4f}", f"{one.redundancy:.3f}",
                "" if one.w is None else f"{one.w:.2f}", "yes" if one.counted else "no", one.doubt,
                one.instrument, one.dive, one.seen,
            )
            for one in export.readings
        ),
    )  # fmt: skip


def about_csv(export: SiteExport) -> bytes:
    """Return datum, method, sigma, date, grid and objections, one a line; it belongs beside the other two."""
    return _written(("name", "words"), export.about)


def _written(head: Sequence[str], lines: Iterable[Sequence[str]]) -> bytes:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows([_plain(cell) for cell in line] for line in lines)
    return out.getvalue().encode("utf-8")


def _plain(cell: str) -> str:
    """Keep a spreadsheet from taking words for a formula; numbers stay as they are."""
    if not cell.startswith(_LOOKS_LIKE_A_FORMULA):
        return cell
    try:
        float(cell)
    except ValueError:
        return f"'{cell}"
    return cell
