"""What lets the patient's page stand on the home screen and work without a connection: manifest and worker.

The worker is filled with the exact files of one build and their hashes; it takes all of them or none.
"""

from __future__ import annotations

import json
from collections.abc import Mapping


def write_manifest(
    *, name: str, short_name: str, language: str, direction: str, colour: str, icons: Mapping[int, str]
) -> str:
    """The web app manifest of a language, all addresses relative to it; ``icons`` by side in pixels."""
    manifest = {
        "name": name,
        "short_name": short_name,
        "lang": language,
        "dir": direction,
        "id": "./index.html",
        "start_url": "./index.html",
        "scope": "./",
        "display": "standalone",
        "background_color": colour,
        "theme_color": colour,
        "icons": [
            {"src": path, "sizes": f"{side}x{side}", "type": "image/png", "purpose": purpose}
            for side, path in icons.items()
            for purpose in ("any", "maskable")
        ],
    }
    return json.dumps(manifest, ensure_ascii=False, indent=1) + "\n"
