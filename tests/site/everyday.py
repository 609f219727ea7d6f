"""What people type into the search of the demo library, twenty queries a language, and an exercise that each must find among the first three.

Everyday words, complaints, muscles, parts of the body, things at home, and misspellings. The queries were written before
the search that answers them, from the trade's and patients' own words (common practice, no source).
"""

from __future__ import annotations

EVERYDAY: dict[str, tuple[tuple[str, str], ...]] = {
    "en": (
        ("weak knees", "sit-to-stand"),
        ("knee pain", "seated-knee-straightening"),
        ("knee", "seated-knee-straightening"),
        ("quadriceps", "straight-leg-raise"),
        ("tight calf", "towel-calf-stretch"),
        ("brigde", "bridge"),
        ("my shoulder is stiff", "arm-swing"),
        ("rotator cuff exercises", "side-lying-turn-out"),
        ("buttocks", "bridge"),
        ("sholder", "arm-swing"),
        ("squatting", "mini-squat"),
        ("getting up from a chair", "sit-to-stand"),
        ("climbing stairs", "step-up"),
        ("sprained ankle", "ankle-pump"),
        ("falls", "heel-to-toe-stand"),
        ("elastic band shoulder", "band-turn-out"),
        ("Achilles", "seated-heel-raise"),
        ("lower back", "bridge"),
        ("calves", "towel-calf-stretch"),
        ("broom stick", "stick-arm-raise"),
    ),
    "es": (
        ("rodillas débiles", "sit-to-stand"),
        ("dolor de rodilla", "seated-knee-straightening"),
        ("rodila", "seated-knee-straightening"),
        ("cuadriceps", "straight-leg-raise"),
        ("pantorrilla tensa", "towel-calf-stretch"),
        ("puetne", "bridge"),
        ("hombro congelado", "arm-swing"),
        ("me duele el hombro", "arm-swing"),
        ("manguito rotador", "side-lying-turn-out"),
        ("glúteos", "bridge"),
        ("sentadillas", "mini-squat"),
        ("levantarme de la silla", "sit-to-stand"),
        ("subir escaleras", "step-up"),
        ("esguince de tobillo", "ankle-pump"),
        ("miedo a caerme", "heel-to-toe-stand"),
        ("liga elástica hombro", "band-turn-out"),
        ("tendón de Aquiles", "seated-heel-raise"),
        ("espalda baja", "bridge"),
        ("gemelos", "towel-calf-stretch"),
        ("palo de escoba", "stick-arm-raise"),
    ),
    "ar": (
        ("ضعف الركبة", "sit-to-stand"),
        ("ألم الركبة", "seated-knee-straightening"),
        ("ركبتي", "seated-knee-straightening"),
        ("العضلة الرباعية", "straight-leg-raise"),
        ("شد السمانة", "towel-calf-stretch"),
        ("الجصر", "bridge"),
        ("تيبس الكتف", "arm-swing"),
        ("كتفي يؤلمني", "arm-swing"),
        ("الكفة المدورة", "side-lying-turn-out"),
        ("الارداف", "bridge"),
        ("سكوات", "mini-squat"),
        ("النهوض من الكرسي", "sit-to-stand"),
        ("صعود السلالم", "step-up"),
        ("التواء الكاحل", "ankle-pump"),
        ("الخوف من السقوط", "heel-to-toe-stand"),
        ("حبل مطاطي للكتف", "band-turn-out"),
        ("وتر العرقوب", "seated-heel-raise"),
        ("أسفل الظهر", "bridge"),
        ("بطة الرجل", "towel-calf-stretch"),
        ("عصا المكنسة", "stick-arm-raise"),
    ),
}
"""By language: query and slug."""
AMONG = 3
"""Among how many of the first the exercise must stand."""
