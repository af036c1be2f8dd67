package main

import (
	"fmt"
	"math"
)

// trialLimits trip the checks of trials, and just do not.
func trialLimits() (list []limit) {
	set := func(check, item, name string, passed bool, says, text string, edits ...string) {
		list = append(list, limit{check, item, name, passed, says, edited(text, edits...)})
	}
	log := func(name string) string { return fmt.Sprintf("trial.a: log = %q", "logs/"+name+".csv") }
	// Four cells: 13.32 V for a full battery at rest, 12 V for one that is nearly empty.
	set("trial_full", "a", "at rest", true, "", logged, log("rested"))
	set("trial_full", "a", "at rest, 10 mV lower", false, "begins at 13.31 V and 0 A, but a full battery at rest shows at least 13.32 V. It was at rest, and so it was not full", logged, log("tired"))
	set("trial_full", "a", "under load, and above it", true, "", logged, log("even"))
	set("trial_full", "a", "under load", false, "begins at 13.31 V and 20 A, but a full battery at rest shows at least 13.32 V. It was under load already, and so the log cannot tell", logged, log("loaded"))
	set("trial_empty", "a", "to the cut-off", true, "", logged, log("cut_off"))
	set("trial_empty", "a", "to 12 V", true, "", logged, log("knee"))
	set("trial_empty", "a", "to 12.01 V", false, "came down to 12.01 V only, not below 12.00 V, where little is left: the trial was ended by nothing that the log shows", logged, log("no_knee"))
	set("trial_empty", "a", "the BMS below it", true, "", logged, log("emptied"))
	set("trial_empty", "a", "the BMS half-way", false, "came down to 13.00 V only, not below 12.00 V, where little is left: the trial was ended by the BMS before", logged, log("tripped"))
	set("trial_empty", "a", "the battery's own cut-off is high", true, "", logged, log("even"), `battery.oak: cutoff_voltage = "12.4 V"`)
	set("trial_empty", "a", "a trial's own cut-off that is high", false, "came down to 12.50 V only, not below 12.00 V, where little is left: the trial was ended by the cut-off voltage", logged, log("even"), `trial.a: cutoff_voltage = "12.5 V"`)
	set("trial_gaps", "a", "90 s of five hours", true, "", logged, log("gap_90"))
	set("trial_gaps", "a", "100 s of five hours", false, "In 0.6 % of its time the log has no voltage or no current (gaps: 1)", logged, log("gap_100"))
	for _, name := range []string{"silent", "mute", "shorn"} {
		set("trial_gaps", "a", name+" for 90 s", true, "", logged, log(name+"_90"))
		set("trial_gaps", "a", name+" for 100 s", false, "In 0.6 % of its time the log has no voltage or no current (gaps: 0)", logged, log(name+"_100"))
	}
	set("trial_gaps", "a", "90 s without a time", true, "", logged, log("timeless_90"))
	set("trial_gaps", "a", "100 s without a time", false, "In 0.6 % of its time the log has no voltage or no current", logged, log("timeless"))
	set("trial_clock", "a", "onward", true, "", logged, log("cut_off"))
	set("trial_clock", "a", "an hour back", false, "The clock of the log starts again or goes back, how often: 1.", logged, log("set_back"))
	set("trial_clock", "a", "two rows back", false, "starts again or goes back, how often: 1.", logged, log("one_behind"))
	for name, says := range map[string]string{"gap_90": "", "silent_90": "", "gap_100": "In 0.6 % of its time", "silent_100": "In 0.6 % of its time", "set_back": "so often: 1."} {
		set("charge_gaps", "a", name, says == "", says, logged, fmt.Sprintf("charge_trial.a: log = %q", "logs/"+name+".csv"))
	}
	set("trial_meter", "a", "1.99 % more", true, "", logged, log("meter_2"))
	set("trial_meter", "a", "2.01 % more", false, "102.0 % of the 1,300 Wh from its rows", logged, log("meter_3"))
	set("trial_direction", "a", "0.95 % back", true, "", logged, log("back_0"))
	set("trial_direction", "a", "1.01 % back", false, "flowed back into the battery: it holds more than a discharge", logged, log("back_1"))
	set("trial_plausible", "first", "130 %", true, "", tried, `trial.first: typed_energy = "3993.5 Wh"`)
	set("trial_plausible", "first", "more", false, "The energy is 130.0 % of the rated one: look at units", tried, `trial.first: typed_energy = "3993.7 Wh"`)
	set("trial_plausible", "first", "50 %", true, "", tried, `trial.first: typed_energy = "1536.1 Wh"`)
	set("trial_plausible", "first", "less", false, "The energy is 50.0 % of the rated one: look at units", tried, `trial.first: typed_energy = "1535.9 Wh"`)
	set("trials_sound", "bank", "totals", true, "", tried)
	set("trials_sound", "bank", "one that cannot be", false, "Of its 2 capacity trials 1 may have given a wrong energy", tried, `trial.first: typed_energy = "3993.7 Wh"`)
	set("trials_sound", "bank", "to the cut-off", true, "", logged, log("cut_off"))
	for _, name := range []string{"tired", "no_knee", "tripped", "gap_100", "silent_100", "mute_100", "shorn_100", "timeless", "set_back", "meter_3", "back_1"} {
		set("trials_sound", "bank", name, false, "Of its 1 capacity trials 1 may", logged, log(name))
	}
	set("trial_step", "a", "10 A of 100 Ah", true, "", logged, log("step_10"))
	set("trial_step", "a", "a little less", false, "The largest step of the current is 10.0 A: too small", logged, log("step_9"))
	// Twice t = 12.7062 times half the difference is the interval of two trials.
	share := 12.706204736174698 * 30.5 / 3289.5
	set("trial_interval", "bank", "as wide as may be", true, "", tried, "site: widest_interval = "+justSo(100.0001*share, "%"))
	set("trial_interval", "bank", "a little wider", false, "too wide for one above the label to raise the plan", tried, "site: widest_interval = "+justSo(99.9999*share, "%"))
	low := []string{`trial.first: typed_energy = "3010 Wh"`, `trial.second: typed_energy = "3020 Wh"`}
	// Half the interval is 12.7062 × 5 Wh = 63.53 Wh around 3,015 Wh.
	set("trial_claim", "bank", "the label at its end", true, "", tried, append(low, "battery.oak: capacity = "+justSo(3078.5/12.8, "Ah"))...)
	set("trial_claim", "bank", "the label above it", false, "3,078.53 Wh, all of it below the rated 3,078.60 Wh", tried, append(low, "battery.oak: capacity = "+justSo(3078.6/12.8, "Ah"))...)
	// 1 % below 150 A may be noise.
	set("holds_rating", "bank", "169 A", true, "", tried)
	set("holds_rating", "bank", "148.5 A", true, "", tried, `load_trial.high: typed_current = "148.5 A"`)
	set("holds_rating", "bank", "148.4 A", false, "held only 148 A, less than the 150 A", tried, `load_trial.high: typed_current = "148.4 A"`)
	set("holds_rating", "bank", "169 A for a quarter of an hour", true, "", logged)
	set("holds_rating", "bank", "169 A for five minutes only", false, "held only 120 A", logged, `load_trial.a: log = "logs/short.csv"`)
	set("trial_efficiency", "bank", "a per cent below", true, "", logged, `battery.oak: round_trip_efficiency = "95.99 %"`)
	set("trial_efficiency", "bank", "a little more", false, "Trials returned 95.0 % of what was charged, but 96.0 % is planned with.", logged, `battery.oak: round_trip_efficiency = "96.01 %"`)
	// Two pairs 10 Wh apart each: the lead's standard error is the square root of
	// 50 Wh², with two degrees of freedom, of which t = 2.919986 is 95 % (one-sided).
	pair := tried + "\n[battery.elm]\ncapacity = \"240 Ah\"\nnominal_voltage = \"12.8 V\"\nprice = \"680 EUR\"\nmax_discharge_current = \"150 A\"\ncycle_life = { depth = [\"100 %\"], cycles = [4000] }\n" +
		"\n[trial.third]\nbattery = \"elm\"\ntyped_energy = \"3100 Wh\"\n\n[trial.fourth]\nbattery = \"elm\"\ntyped_energy = \"3110 Wh\"\n"
	lead := func(more float64) []string {
		at := 3105 + more*2.919986*math.Sqrt(50)
		return []string{`battery.oak: compared_with = "elm"`, "trial.first: typed_energy = " + justSo(at-5, "Wh"), "trial.second: typed_energy = " + justSo(at+5, "Wh")}
	}
	set("trial_lead", "bank", "sure enough", true, "", pair, lead(1.0001)...)
	set("trial_lead", "bank", "a little less", false, "differ by 20.6 Wh, with a certainty of 95.0 % which is better", pair, lead(0.9999)...)
	set("trial_lead", "bank", "as sure the other way", true, "", pair, lead(-1.0001)...)
	return list
}
