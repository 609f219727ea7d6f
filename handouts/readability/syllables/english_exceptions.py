"""English words whose syllables the rule in ``english`` gets wrong: common words, and words of body and exercise.

Chosen by comparing the rule with the CMU Pronouncing Dictionary (Copyright 1993-2015 Carnegie Mellon University,
all rights reserved; used under its terms, which ask for this notice) and, for words it lacks, counted by hand.
A regular plural is found through its singular.  Holds no rule.
"""

from __future__ import annotations

_BY_SYLLABLES = {
    1: """
    aches aired drawer haired isle league paired plague plagued plaque priest tongue tongued torque vague
    """,
    2: """
    acne admire antique asthma averaged awesome barefoot bracelet business cement chocolate choir clients colleague
    comeback conscience could've creature critique critiqued crooked cushion cushioned diamond dismiss dismissed
    driveway duel dueled duo evening every expired eyebrow farewell fashion fashioned fatigue fatigued forecast
    forehead foremost framework frontier fuels gateway giant headaches ideal impaired inspire it'd liar lifestyle
    limestone lion livestock maybe milestone naive naked naïve ninety opera pigeon pipeline premier quiet react
    repaired rhythm rugged safety salesman savior should've skiing soldier someone someone's sovereign spacecraft
    spokesman surgeon technique that'd thereof trademark trademarked unique vaguely wednesday wicked widespread
    wireless would've
    """,
    3: """
    achille albeit alien alliance anyone appliance atheist averages averaging awesomely basically beautifully
    behavior behaviour beverages billionaire businesses businessman catalogue catalogued cereal chaotic compliance
    consciences cruciate cushioning decorative denial dialogue dismissal dismissing drastically element equity
    fascia fashioning fatiguing finale forecasted forecasting gluteal gluteus heroic ideally iliac imagery infrared
    intriguing liable loneliness millionaire moreover naively nausea nucleus nutrients overhead physio pilates
    policeman quieted quieting quietly ratio reacted reacting reaction reactor recipe reliance requirement sarcasm
    sciatic shareholder solely soleus sovereignty spokesperson takeover tuition twentieth uniquely valuable
    vegetable visually whoever
    """,
    4: """
    affiliate algorithm alliances aluminium appliances appreciate arguably associate behavioral calcaneus coalition
    coincidence colonial constituent dementia diabetes diarrhoea emotionally fashionable firefighters genetically
    ingredients initiate intriguingly ironically laboratories laboratory nauseated negotiate nevertheless oriental
    oriented peroneal petroleum plyometric portfolio presidential realities reality realization recipients reliable
    residential sciatica scoliosis societal societies society specifically spontaneous unreasonable veterinary
    whatsoever
    """,
    5: """
    affiliated affiliation appreciated appreciation associated association automatically behaviorally bibliography
    coincidences constituency differentiate economically enthusiasm enthusiastic goniometer initiated liability
    negotiated negotiating negotiation orientation osteopathy physiology presidentially radioactive sacroiliac
    sociology spontaneously
    """,
    6: """
    differentiated iliotibial osteoarthritis osteoporosis physiotherapist physiotherapy reconciliation reliability
    simultaneously
    """,
}

EXCEPTIONS: dict[str, int] = {word: number for number, words in _BY_SYLLABLES.items() for word in words.split()}
"""Lower-case word or part to its number of syllables."""
