"""What files and folders a library holds, by their names.  Imports nothing, so that it costs nothing to ask."""

SINGLE_FILES = {
    "clinic.yaml": "clinic",
    "tiers.yaml": "tiers",
    "vocabulary.yaml": "vocabulary",
    "cautions.yaml": "cautions",
    "limits.yaml": "limits",
    "conditions.yaml": "conditions",
}
FOLDERS = {
    "exercises": (".md", "exercise"),
    "programmes": (".md", "programme"),
    "bundles": (".yaml", "bundle"),
    "tests": (".md", "test"),
    "leaflets": (".md", "leaflet"),
    "lessons": (".md", "lesson"),
    "classes": (".yaml", "class"),
}
OTHER_FILES = ("ledger.yaml", "published.yaml", "score.yaml", "import.yaml", "words", "schema", "pictures", "README.md", "base.reviews.yaml", "fonts")
"""Parts of a library that other rooms read."""
PARTS = frozenset((*SINGLE_FILES, *FOLDERS, *OTHER_FILES))
"""Everything that a library may hold at its top."""
REQUIRED_FILES = ("clinic.yaml", "tiers.yaml", "vocabulary.yaml", "cautions.yaml")
