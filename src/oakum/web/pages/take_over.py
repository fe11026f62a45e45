"""Taking over the club's register: a message a row, nothing enters until it is accepted."""

from __future__ import annotations

from fastapi import APIRouter

router = APIRouter()
