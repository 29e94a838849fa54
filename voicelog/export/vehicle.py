"""The vehicle and the pictures of a log as plain JSON."""

from __future__ import annotations

from typing import Any

from voicelog.domain.photo import Photo
from voicelog.domain.vehicle import Odometer, Refusal, Vehicle
from voicelog.export.values import clean, known, rounded, texts


def vehicle_to_json(vehicle: Vehicle) -> dict[str, Any]:
    """What is known of the vehicle; what is not known is left out."""
    told: dict[str, Any] = {
        "described": clean(vehicle.described),
        "vin": clean(vehicle.vin),
        "vin_problem": clean(vehicle.vin_problem),
        "plate": clean(vehicle.plate),
        "paint_code": clean(vehicle.paint_code),
        "odometer": None if vehicle.odometer is None else _odometer(vehicle.odometer),
        "inspected_on": clean(vehicle.inspected_on),
        "inspector": clean(vehicle.inspector),
        "stood": vehicle.stood,
        "surface": list(vehicle.surface),
        "refusals": [_refusal(refusal) for refusal in vehicle.refusals],
        "contradictions": texts(vehicle.contradictions),
        "doubts": texts(vehicle.doubts),
    }
    return {name: value for name, value in told.items() if value}


def _odometer(reading: Odometer) -> dict[str, Any]:
    return {
        "value": rounded(reading.value),
        "unit": reading.unit,
        "km": rounded(reading.km),
    }


def _refusal(refusal: Refusal) -> dict[str, Any]:
    return {"what": refusal.what, **({"why": clean(refusal.why)} if refusal.why else {})}


def photo_to_json(photo: Photo) -> dict[str, Any]:
    """One picture, what it shows, and how sure that is."""
    told: dict[str, Any] = {
        "file": clean(photo.file),
        "sha256": photo.sha256,
        "original": clean(photo.original),
        "entries": texts(photo.entries),
        "taken": photo.taken or None,
        "confidence": rounded(photo.confidence),
        "because": texts(photo.because) or None,
        "location": photo.location,
        "by": clean(photo.by) or None,
    }
    return known(told)
