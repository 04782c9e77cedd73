"""What follows from a verdict: rule, level, reception, limits, next steps, the cheaper one, one scan."""

from reports.wording import complete, level, limits, method, next_steps, one_scan, reception, rule, value_pick
from reports.wording.speech import speech_of
from tests.reports import sample_documents as samples
from tests.reports.sample_judgement import pick_entry
from tests.reports.sample_parts import caution


def speech(document):
    return speech_of(complete(document))


def steps(document) -> str:
    return " ".join(next_steps.sentences(speech(document)))


def test_the_rule_is_one_sentence_with_its_error_rate():
    said = rule.sentence(speech(samples.two_elements(confidence=0.9)))
    assert said.count(".") == said.count("0.5") + 1
    assert "at most 10 of 100" in said


def test_unplanned_looks_raise_the_error_rate_that_is_told():
    document = samples.two_elements(looks="planned end")
    document["cautions"].append(
        caution("unplanned-looks", "warning", planned_rounds=6, rounds_done=8, promise=0.06)
    )
    said = rule.sentence(speech(document))
    assert "at most 6 of 100" in said
    assert "asked at the planned end" in said


def test_the_margin_is_also_told_as_points_of_the_total():
    assert "about 18 points of the total of 36 channels" in rule.margin_note(speech(samples.six_elements()))
    assert "points" not in rule.margin_note(speech(samples.db_meter()))


def test_the_level_says_whether_the_lead_is_more_than_the_margin():
    assert "by more than the 0.5 bars" in level.sentence(speech(samples.two_elements()))
    assert "is not settled" in level.sentence(speech(samples.six_elements()))
    assert "may be chance" in level.sentence(speech(samples.one_round()))
    assert level.sentence(speech(samples.all_at_ceiling())) == "Level: nothing to compare."


def test_reception_tells_a_difference_from_chance():
    assert reception.statement(speech(samples.six_elements())) == (
        "Reception: every signal came in with all 4 elements in every round."
    )
    document = samples.db_meter()
    assert "Chance alone does that in 31 of 100 such trials" in reception.statement(speech(document))
    document["reception"]["cochran_q"]["p_value"] = 0.004
    assert reception.statement(speech(document)).endswith("6. That is more than chance.")
    document["verdict"]["rounds_done"] = 1
    assert "One scan cannot tell" in reception.statement(speech(document))


def test_reception_without_any_signal_is_said():
    document = samples.two_elements()
    for entry in document["reception"]["elements"]:
        for cell in entry["rf_channels"]:
            cell["received_rounds"] = 0
    assert "no signal came in with any element" in reception.statement(speech(document))


def test_limits_name_what_stays_open():
    said = " ".join(limits.sentences(speech(samples.six_elements())))
    assert "these 4 elements as they were" in said
    assert "a bar is a step of this meter's own scale" in said
    assert (
        "That 3 mm brass rod is the best of these is settled. Which of the others differ is not yet." in said
    )
    assert "this one element as it was" in limits.sentences(speech(samples.one_element()))[0]


def test_signals_left_out_are_counted_among_the_limits():
    document = samples.six_elements()
    document["read_as"]["left_out"] = [{"rf_channel": "21", "why": "not scanned in every run", "runs": []}]
    said = " ".join(limits.sentences(speech(document)))
    assert "the average over 23 signals" in said
    assert "1 signal had to be left out" in said


def test_the_next_step_of_an_open_trial_is_rounds_and_hours():
    document = samples.two_elements(effects=(0.2, 0.0), rounds=4)
    assert document["verdict"]["more_rounds"] == 3
    assert "Run about 3 more rounds, perhaps 6 (about 1.5 hours, perhaps 2.5 hours)." in steps(document)


def test_a_difference_too_fine_is_not_chased_with_rounds():
    document = samples.two_elements(effects=(0.2, 0.0), rounds=4)
    document["verdict"]["reasons"].append({"code": "too-fine", "evidence": {}, "message": None})
    assert "More rounds will hardly settle it" in steps(document)


def test_without_an_estimate_the_plan_is_finished():
    document = samples.two_elements(rounds=2)
    assert "Run 4 more rounds. No verdict is possible with fewer than 6." in steps(document)


def test_a_stopped_trial_is_first_put_right():
    document = samples.six_elements()
    document["verdict"].update(outcome="needs more runs", winner=None)
    document["cautions"].insert(0, caution("safety", "stop"))
    assert steps(document).startswith("First put right what stopped the trial (safety)")


def test_readings_at_the_ceiling_ask_for_an_attenuator():
    assert steps(samples.all_at_ceiling()).startswith("Put an attenuator in line")


def test_runs_that_cost_signals_are_named_to_be_repeated():
    document = samples.two_elements()
    document["read_as"]["runs_to_repeat"] = [{"element": "bronze-13", "round": 2}]
    assert (
        "Repeat the runs that cost the comparison most of its signals: “bronze wire, 13 gauge” in round 2"
        in (steps(document))
    )


def test_the_cheaper_one_that_is_as_good_is_named_with_its_cost():
    document = samples.six_elements(effects=(0.2, 0.2, 0.1, 0.0), margin=1.2)
    document["value_pick"] = pick_entry("bronze-13", "cheapest", ["steel-14"], basis="cost")
    said = value_pick.sentence(speech(document))
    assert (
        "2.90\u202fEUR) is the cheapest of those that are as good: behind the best by less than 1.2 bars"
        in said
    )
    assert said.endswith("Not considered, for want of a cost: stainless steel wire.")
    entry = next(item for item in document["elements"] if item["id"] == "steel-14")
    entry.update(standing="not told apart yet", cost={"amount": 0.5, "currency": "EUR"})
    said = value_pick.sentence(speech(document))
    assert said.endswith("Not settled, and so not considered: stainless steel wire (0.50\u202fEUR).")


def test_every_reason_for_a_pick_has_words():
    document = samples.six_elements()
    for reason, words in {
        "only the leader": "stands alone: no other is as good, whatever it costs",
        "decision stands": "was settled as the best and that stands",
        "no costs": "give the cost of each element",
        "not settled": "not settled yet",
        "cheapest": "leads, and none that may be as good is cheaper",
        "quickest": "3 mm brass rod (15 minutes) leads, and none that may be as good is quicker to make",
    }.items():
        document["value_pick"] = pick_entry("brass-3", reason, [], minutes=15)
        assert words in value_pick.sentence(speech(document))


def test_the_quickest_to_make_is_named_beside_the_cheapest():
    document = samples.six_elements(effects=(0.2, 0.2, 0.1, 0.0), margin=1.2)
    quickest = {"element": "steel-14", "minutes": 1.0, "undecided": []}
    document["value_pick"] = pick_entry("bronze-13", "cheapest", [], basis="cost", quickest=quickest)
    said = value_pick.sentence(speech(document))
    assert said.endswith("The quickest to make of them is stainless steel wire (1 minute).")
    quickest.update(element="bronze-13", minutes=10.0)
    assert value_pick.sentence(speech(document)).endswith(
        "It is the quickest to make of them, too (10 minutes)."
    )
    quickest.update(element=None, minutes=None, undecided=["steel-14"])
    assert value_pick.sentence(speech(document)).endswith("quickest to make is not settled or not told.")


def test_the_time_to_make_it_decides_in_its_own_words_where_no_cost_is_given():
    document = samples.six_elements(effects=(0.2, 0.2, 0.1, 0.0), margin=1.2)
    document["trial"]["elements"][1]["minutes_to_make"] = 10
    given = {entry["id"]: entry for entry in document["trial"]["elements"]}
    told = {"basis": "minutes to make", "minutes": 10.0}
    document["value_pick"] = pick_entry("bronze-13", "quickest", ["steel-14"], **told)
    said = value_pick.sentence(speech(document))
    assert said.startswith(
        "No cost is given, so the time to make it decides. “bronze wire, 13 gauge” (10 minutes) is"
    )
    assert "the quickest to make of those that are as good" in said
    assert said.endswith("Not considered, for want of a time to make: stainless steel wire.")
    document["value_pick"] = pick_entry(None, "not settled", ["steel-14"], **told)
    assert value_pick.sentence(speech(document)) == (
        "Whether one that is quicker to make is as good is not settled yet: stainless steel wire (time not "
        "given)."
    )
    given["steel-14"]["minutes_to_make"] = 5
    assert "stainless steel wire (5 minutes)" in value_pick.sentence(speech(document))
    document["value_pick"] = pick_entry(None, "no costs", ["brass-3"], **told)
    assert "give the minutes of 3 mm brass rod" in value_pick.sentence(speech(document))


def test_one_scan_keeps_the_span_and_says_what_it_is_worth():
    document = samples.one_round()
    scan = speech(document)
    assert "came out 57.0 points above" in one_scan.statement(
        scan
    ) or "57 points above" in one_scan.statement(scan)
    facts = " ".join(one_scan.facts(scan))
    assert "2.1 times as far apart" in facts
    assert "10 times, with one scan each time, about 2 hours in all" in one_scan.remount_test(scan)
    assert "with fewer than 3 rounds" in one_scan.verdict_needs(scan)


def test_one_scan_of_equal_totals_or_of_one_element_has_no_span():
    document = samples.one_round()
    document["one_scan"].update(span=0, remount_test=None)
    assert "came to the same total" in one_scan.statement(speech(document))
    assert one_scan.remount_test(speech(document)) == ""
    document["one_scan"].update(span=None, fewest_rounds=None)
    assert "nothing to compare" in one_scan.statement(speech(document))
    assert one_scan.verdict_needs(speech(document)) == ""


def test_the_method_takes_ten_lines_for_every_design():
    for maker in (samples.two_elements, samples.six_elements, samples.known_noise, samples.one_element):
        assert len(method.lines(speech(maker()))) == 10
