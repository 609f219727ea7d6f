"""What must hold in a library: one small function a question, all asked at once.

``RULES`` lists them in the order in which they are asked; the order of the answers is
by place, so it does not matter here.
"""

from __future__ import annotations

from datetime import date

from handouts.model import Library
from handouts.problems import Problem, sort_problems
from handouts.rules import (
    bundles,
    classes,
    clinic,
    conditions,
    criteria,
    doses,
    graph,
    limits,
    names,
    occasions,
    pictures,
    programmes,
    progressions,
    safety,
    searching,
    standalones,
    standing,
    texts,
)
from handouts.rules.question import Rule, ask_about
from handouts.tasks.calling import Caller, call_now

RULES: tuple[Rule, ...] = (
    names.check_vocabulary,
    names.check_tiers,
    names.check_cautions,
    names.check_exercises,
    names.check_whole_steps,
    names.check_bundle_programmes,
    names.check_unique_codes,
    names.check_unique_titles,
    names.check_unique_slugs,
    standing.check_base_named,
    standing.check_codes_kept_free,
    searching.check_search_names,
    searching.check_search_words,
    searching.check_search_finds,
    doses.check_dose_kind,
    doses.check_pace,
    doses.check_weight_unit,
    doses.check_limb,
    doses.check_dose_whole,
    doses.check_dose_sides,
    doses.check_rest,
    doses.check_dose_range,
    occasions.check_counted,
    occasions.check_rounds,
    occasions.check_by_occasion,
    occasions.check_rest_days,
    occasions.check_impact_growth,
    graph.check_cycles,
    graph.check_tier_order,
    graph.check_ready_when,
    criteria.check_measures_known,
    criteria.check_measures_fit,
    criteria.check_measures_said,
    graph.check_programme_tiers,
    graph.check_in_programme,
    graph.check_programme_whole,
    progressions.check_progressions,
    progressions.check_progression_rings,
    progressions.check_something_easier,
    safety.check_steps,
    safety.check_stop_rule,
    safety.check_stop_rules_call,
    safety.check_stop_rules_stop,
    safety.check_emergency_number,
    safety.check_brought_cautions,
    safety.check_reviews,
    safety.check_sources,
    safety.check_figures,
    pictures.check_equipment_drawn,
    pictures.check_own_pictures,
    texts.check_markup,
    texts.check_sentences,
    texts.check_reading_level,
    texts.check_choppy,
    bundles.check_bundle_doses,
    bundles.check_bundle_picks,
    bundles.check_bundle_length,
    bundles.check_bundle_stages,
    bundles.check_bundle_steps,
    bundles.check_bundle_in_programme,
    programmes.check_programme_length,
    standalones.check_test_steps,
    standalones.check_standalone_stop_rule,
    standalones.check_leaflet_text,
    standalones.check_leaflet_keep,
    standalones.check_test_numbers,
    classes.check_class_levels,
    classes.check_class_fits,
    classes.check_class_figures,
    classes.check_class_length,
    limits.check_motions,
    limits.check_demands,
    limits.check_limit_groups,
    limits.check_bounds,
    limits.check_combinations,
    limits.check_weeks,
    conditions.check_condition_names,
    conditions.check_condition_rules,
    conditions.check_conditions_touch,
    clinic.check_accent,
    clinic.check_effort_scale,
    clinic.check_pain_bounds,
    clinic.check_next_dose,
    clinic.check_languages,
    clinic.check_papers,
)


def check_library(library: Library, today: date, call: Caller = call_now) -> tuple[Problem, ...]:
    """Every problem that the rules find on the given day, sorted by place; ``call`` asks about single texts."""
    question = ask_about(library, today, call)
    return sort_problems(problem for rule in RULES for problem in rule(question))
