"""The shared parts of schemas: figures as people write them."""

from __future__ import annotations

from typing import Any

PARTS: dict[str, dict[str, Any]] = {
    "length": {
        "description": (
            "A length. Text with its unit (12' 6-1/2\", 12-6 1/2, 12.5 ft, 150-1/2 in, 3810 mm, 381 cm, 3.81 m). Or "
            "a number, or text without a unit, in the document's `units`. Zero or more, at most 10 km."
        ),
        "type": ["number", "string"],
        "minimum": 0,
        "minLength": 1,
        "maxLength": 40,
    },
    "coordinate": {
        "description": "A length of either sign, written as a length is.",
        "type": ["number", "string"],
        "minLength": 1,
        "maxLength": 40,
    },
    "angle": {
        "description": "An angle in degrees: a number, or text such as 25.5 or 25° 30'.",
        "type": ["number", "string"],
        "minLength": 1,
        "maxLength": 40,
    },
    "money": {
        "description": (
            'An amount in the firm\'s currency, zero or more, at most two places, best as text: "1250.50". As '
            'printed is read too: "1,250.50".'
        ),
        "type": ["number", "string"],
        "minimum": 0,
        "minLength": 1,
        "maxLength": 40,
    },
    "signed_money": {
        "description": (
            'An amount in the firm\'s currency, either sign, at most two places, best as text: "-250.00". No '
            "currency sign, no comma."
        ),
        "type": ["number", "string"],
        "minLength": 1,
        "maxLength": 20,
    },
    "share": {
        "description": 'A share of a whole, 0 to 1: 0.4, or as text "0.4" or the fraction "1/3".',
        "type": ["number", "string"],
        "minimum": 0,
        "maximum": 1,
        "minLength": 1,
        "maxLength": 20,
    },
    "whole": {
        "description": "A whole number; text is read as well.",
        "type": ["integer", "string"],
        "minimum": 0,
        "minLength": 1,
        "maxLength": 20,
    },
    "day": {
        "description": "A calendar day in the firm's time zone, written 2027-01-25; from 2000 to 2100.",
        "type": "string",
        "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$",
        "format": "date",
    },
    "text_key": {
        "description": "Name of a standing sentence: small letters, digits and hyphens.",
        "type": "string",
        "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$",
        "maxLength": 60,
    },
    "language": {
        "description": "A BCP 47 language tag, such as en or fr-CA.",
        "type": "string",
        "pattern": "^[a-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}$",
    },
}
