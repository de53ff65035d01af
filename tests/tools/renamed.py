"""The renames on the wire since the last release, for `same_numbers`.

For a calculation, or for all of them under "*", the old path and the new one, which is
None where a number is gone on purpose. A path has dots, "*" for any one step, and in a
new path the steps that its "*" stood for in turn. "question" is what is asked, "answer"
the whole of what comes back.
"""

RENAMED = {
    "question": {
        "cost-comparison": {
            "machines.*.clean_outs_a_year": "machines.*.clean_outs_per_year",
            "ways.*.purchases.*.running.hours_a_clean_out": "ways.*.purchases.*.running.hours_per_clean_out",
            "ways.*.purchases.*.running.hours_a_year": "ways.*.purchases.*.running.hours_per_year",
            "working_days_a_year": "working_days_per_year",
        },
        "disposal": {
            "groups.*.fines.monthly": "groups.*.fines.mass_per_month",
            "wash_water_monthly": "wash_water_per_month",
        },
        "fluid-loop": {"groups.*.gains.tramp_oil": "groups.*.gains.tramp_oil.amount"},
    },
    "answer": {
        "cost-comparison": {
            "answer.break_even.*.at.*.value.times_a_year": "answer.break_even.*.at.*.value.times_per_year",
            "answer.break_even.*.given.times_a_year": "answer.break_even.*.given.times_per_year",
            "answer.break_even.*.searched_from.times_a_year": (
                "answer.break_even.*.searched_from.times_per_year"
            ),
            "answer.break_even.*.searched_to.times_a_year": "answer.break_even.*.searched_to.times_per_year",
            "answer.hangs_on.inputs.*.given.times_a_year": "answer.sensitivity.inputs.*.given.times_per_year",
            "answer.hangs_on": "answer.sensitivity",
            "answer.ways.*.against_baseline.saves_a_year": "answer.ways.*.against_baseline.saves_per_year",
            "answer.ways.*.yearly": "answer.ways.*.cost_per_year_by_heading",
            "answer.ways.*.yearly_cost": "answer.ways.*.cost_per_year",
            "answer.ways.*.yearly_cost_a_machine": "answer.ways.*.cost_per_year_per_machine",
        },
        # Drawn with different random numbers and a different rule for percentiles.
        "disposal": {"answer.bands": None},
        "fluid-loop": {
            "answer.explanation": None,
            "answer.purge.needed_rate": "answer.purge.needed_per_day",
            "answer.yearly": "answer.per_year",
        },
        "losses": {
            "answer.findings": "answer.suspects",
            "answer.per_running_hour.mean_daily_hours": "answer.per_running_hour.mean_hours_per_day",
        },
        "recycler": {
            "answer.not_recyclable": None,
            # Drawn with different random numbers.
            "answer.overflow_risk": None,
        },
        # Now a finding, with its numbers in the sentence.
        "separation": {"answer.outside_practice": None},
    },
}
