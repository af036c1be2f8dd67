"""What owning a bank costs, from the bills one after another. It reads scenarios as JSON
from standard input (money, years, kWh, shares) and writes what they come to. Nothing is
taken from a formula of annuities or discount factors: bills fall due year by year, their
present worth is a polynomial in 1/(1 + rate), level payments are those with which a
balance ends at nothing, and what pays back is seen on the balance of an account."""

import json
import sys

import numpy as np
from scipy.optimize import brentq

SORTS = ["first", "upkeep", "replacement", "energy", "failures", "unmet", "residual"]
DAYS = 365


def level(rate, years):
    """The payment at the end of each year that pays back a loan of 1."""

    def left(payment):
        balance = 1.0
        for _ in range(years):
            balance += balance * rate - payment
        return balance

    return brentq(left, 1e-6, 2 + rate, xtol=1e-15, rtol=1e-14)


def deaths(life, years):
    """The years at whose end a worn-out bank is replaced, none in the last, and how much
    of the last bank's life is left."""
    bought, spent = [], 0.0
    at = life
    while at <= years - 1:
        bought.append(int(np.ceil(at)))
        spent, at = at, at + life
    return bought, 1 - (years - spent) / life


def flows(s, a):
    """The bills of each sort, by the year at whose end they fall due."""
    years, count = s["years"], a["series"] * a["parallel"]
    due = {sort: np.zeros(years + 1) for sort in SORTS}
    hours = s["wiring_time"] + s["battery_wiring_time"] * (count - 1)
    due["first"][0] = count * a["price"] + a["source_price"] + a["controller_price"] + a["wiring_price"] + hours * s["labour"]

    visits = 3 if a["series"] > 1 else 2 if a["parallel"] > 1 else 0
    due["upkeep"][1:] = (visits * count * s["balancing_time"] + s["inspection_time"]) * s["labour"]

    life = min(a["calendar_life"], a["cycles"] / DAYS)
    if s["wear_counting"] == "sum":
        life = 1 / (1 / a["calendar_life"] + DAYS / a["cycles"])
    bought, unused = deaths(life, years)
    price = a["price"]  # of one battery, at the end of the year
    age, delivered = 0, min(1, count * a["energy"] * 0.8 * DAYS / s["demand"])
    energy_price = a["energy_price"]
    for year in range(1, years + 1):
        price *= 1 + s["battery_price_escalation"]
        energy_price *= 1 + s["energy_price_escalation"]
        age += 1
        if age > a["warranty"]:
            due["failures"][year] = count * s["failure_rate"] * price
        for _ in range(bought.count(year)):
            due["replacement"][year] += count * (price + s["battery_wiring_time"] * s["labour"])
            age = 0
        due["energy"][year] = s["demand"] * delivered / a["round_trip"] / a["source_efficiency"] * energy_price
        due["unmet"][year] = s["demand"] * (1 - delivered) * s["unmet_price"]
    due["residual"][years] = -count * price * unused * s["residual_share"]
    return due


def judged(rate, mine, base):
    """When an account that pays the bills of the baseline in, and its own out, is never
    again below nothing."""
    balance, behind = base[0] - mine[0], []
    for year in range(1, len(mine)):
        balance += balance * rate + base[year] - mine[year]
        if balance < 0:
            behind.append(year)
    years = len(mine) - 1
    if not behind:
        return 0, "from the first year"
    if behind[-1] < years:
        return behind[-1], "within the study"
    return behind[-1], "only for a time" if len(behind) < years else "never"


def solved(s):
    rate, years = s["discount_rate"], s["years"]

    def worth(flow):
        return float(np.polyval(flow[::-1], 1 / (1 + rate)))

    out = {"payment": level(rate, years), "alternatives": []}
    all_due = [flows(s, a) for a in s["alternatives"]]
    totals = [sum(due.values()) for due in all_due]
    for i, due in enumerate(all_due):
        income = np.concatenate([[0.0], np.full(years, s["demand"])])
        each = {sort: worth(due[sort]) for sort in SORTS}
        each["whole"] = worth(totals[i])
        each["level_price"] = brentq(lambda p: worth(p * income - totals[i]), -1e3, 1e4, xtol=1e-14, rtol=1e-14)
        each["years_behind"], each["pays_back"] = judged(rate, totals[i], totals[0])
        if i == 0:
            each["pays_back"] = "it is the baseline or costs the same"
        out["alternatives"].append(each)
    return out


json.dump([solved(s) for s in json.load(sys.stdin)], sys.stdout)
