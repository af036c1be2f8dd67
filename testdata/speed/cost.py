"""The lifetime cost of a scenario's alternatives over a grid of price and depth of
discharge, in numpy columns, by the same formulas as the rules. It reads what is given
as JSON from standard input and writes, for whole columns, for columns in blocks and for
broadcasting, the processor time in seconds and the sum of all costs. BenchmarkNumpy
runs it."""

import json
import sys
import time

import numpy as np


def absent(x):
    return x is None


def costs(given, price, depth):
    """The cost for each unit of energy of every alternative; price and depth are
    columns, everything else numbers."""
    g, s, p = given, given["site"], given["price"]
    year, day = g["constant"]["year_length"], g["constant"]["day_length"]
    years = int(round(s["study_period"] / year))
    n = np.arange(1, years + 1)
    discount = (1 + s["discount_rate"]) ** -n.astype(float)
    battery_index = (1 + s["battery_price_escalation"]) ** n.astype(float)
    energy_index = (1 + s["energy_price_escalation"]) ** n.astype(float)

    power = ac = dc = ac_together = dc_together = 0.0
    alone = []
    for load in g["load"]:
        full = load["power"] * load["count"]
        average = full * load["duty"] * load["hours_per_day"]
        power += average
        if load["ac"]:
            ac += average
            ac_together += full * load["coincident"]
        else:
            dc += average / load["converter_efficiency"]
            full /= load["converter_efficiency"]
            dc_together += full * load["coincident"]
        alone.append((load["ac"], full))
    demand = power * year
    present_demand = np.sum(demand * discount)

    for source in g["source"]:
        efficiency = source["efficiency"]
        if absent(efficiency):
            efficiency = s["array_efficiency"] if source["sun"] else 1
        source["at_bank"] = source["energy_price"] / efficiency
        source["given"] = 0 if absent(source["share"]) else source["share"]
        source["open"] = 1 if absent(source["share"]) else 0

    out = []
    for a in g["alternative"]:
        b, v = g["battery"][a["battery"]], g["inverter"][a["inverter"]]
        battery_price = price if a["battery"] == 0 else b["price"]
        count = a["series"] * a["parallel"]
        energy = count * b["capacity"] * b["nominal_voltage"]
        usable = energy * depth * s["temperature_factor"]
        purchase = count * battery_price

        need = ac / v["efficiency"] + v["idle_power"] + dc + count * b["idle_power"]
        daily = need * day
        draw = ac_together / v["efficiency"] + v["idle_power"] + dc_together
        for is_ac, full in alone:
            draw = max(draw, (full / v["efficiency"] if is_ac else full) + v["idle_power"])
        draw = max(draw, v["continuous_power"] / v["efficiency"] + v["idle_power"])
        design = draw / max(a["series"] * b["cutoff_voltage"], v["min_voltage"])
        left = a["parallel"] - 1
        spread = s["spread_factor"] if left > 1 else 1
        runs_on = left > 0 and design <= b["max_discharge_current"] * left * spread * (1 + 1e-12)
        failures = count * s["failure_rate"] * year
        outage = failures * s["repair_time"] * power

        many, high = a["parallel"] > 1, a["series"] > 1
        parts = p["wiring_parts_24v"] if high else p["wiring_parts_12v"]
        parts += p["bus_bars"] + p["string_parts"] * a["parallel"] if many else 0
        parts += p["series_link"] * (a["series"] - 1) * a["parallel"]
        control = p["charge_control_24v"] if high else p["charge_control_12v"]
        sources = [g["source"][i] for i in a["sources"]]
        open_sources = sum(x["open"] for x in sources)
        share = max(1 - sum(x["given"] for x in sources), 0) / open_sources if open_sources else 0
        energy_price = sum(x["at_bank"] * (x["given"] + x["open"] * share) for x in sources)
        hours = s["wiring_time"] + s["battery_wiring_time"] * (count - 1)
        first = purchase + v["price"] + control + sum(x["price"] for x in sources) + parts + hours * p["labour"]
        balancings = year / s["series_balancing_interval"] if high else year / s["parallel_balancing_interval"] if many else 0
        upkeep = (balancings * count * s["balancing_time"] + s["inspection_time"]) * p["labour"]
        work = count * s["battery_wiring_time"] * p["labour"]

        curve = np.log(b["depth"]), np.log(b["cycles"])
        calendar = year / b["calendar_life"]
        wear = replaced = age = np.zeros_like(depth)
        total = np.zeros_like(depth)
        for i in range(years):
            health = 1 - (1 - b["end_of_life"]) * wear
            aged = usable * health
            served = np.minimum(1, aged / daily)
            cycles = np.exp(np.interp(np.log(served * daily / (energy * health)), *curve))
            age = np.where(replaced > 0, 1, age + 1)
            unmet = demand * (1 - served)
            if outage > 0:
                left_served = np.minimum(1, aged * left / a["parallel"] / daily) if runs_on else 0
                unmet = unmet + outage * np.maximum(served - left_served, 0)
            bought = served * need * year / b["round_trip_efficiency"] * energy_price
            wear = wear + np.maximum(year / day / cycles, calendar)
            replaced = np.floor(wear * (1 + 1e-12)) if i + 1 < years else np.zeros_like(wear)
            wear = wear - replaced
            cost = upkeep + replaced * (purchase * battery_index[i] + work) + bought * energy_index[i]
            if failures > 0:
                cost = cost + failures * np.where(age * year > b["warranty"], battery_price * battery_index[i], 0)
            total = total + (cost + unmet * s["unmet_price"]) * discount[i]
        residual = purchase * battery_index[-1] * (1 - wear) * s["residual_share"]
        out.append((first + total - residual * discount[-1]) / present_demand)
    return out


def timed(run):
    start = time.process_time()
    total = run()
    return time.process_time() - start, total


def main():
    given = json.load(sys.stdin)
    price, depth = np.array(given["prices"]), np.array(given["depths"])
    prices, depths = np.repeat(price, len(depth)), np.tile(depth, len(price))

    def blocks(size):
        return sum(float(np.sum(c)) for i in range(0, len(prices), size)
                   for c in costs(given, prices[i:i + size], depths[i:i + size]))

    def broadcast():
        return sum(float(np.sum(c + np.zeros((len(price), len(depth))))) for c in costs(given, price[:, None], depth[None, :]))

    print(*timed(lambda: blocks(len(prices))), *timed(lambda: blocks(8192)), *timed(broadcast))


main()
