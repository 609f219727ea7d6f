"""The link to a patient's page and its two parts for a QR code; no server sees the code, a fragment."""

from __future__ import annotations

from handouts.model import Clinic

PATIENT_FOLDER = "my"
"""Folder of the patient's page below its language: ``es/my/index.html``."""


def patient_link(clinic: Clinic, language: str, code: str) -> str:
    """The address of a patient's exercises on the clinic's site."""
    return f"{clinic.site}{language}/{PATIENT_FOLDER}/#{code}"


def qr_parts(link: str) -> tuple[str, str]:
    """The address with its ``#`` (byte mode) and the code (alphanumeric mode): two segments of one QR code."""
    address, sign, code = link.partition("#")
    return address + sign, code
