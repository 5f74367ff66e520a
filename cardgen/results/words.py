"""The words of the verdicts, by name: what a value means, and what to do next."""

from __future__ import annotations

from collections.abc import Mapping

# `verdict NAME` says no more than the value proves; `next NAME` is the single next step.
ENGLISH: Mapping[str, str] = {
    # Ohms at the controller.
    "verdict within": "Within the band of {low} to {high} Ω.",
    "next within": "Nothing to mend by this value.",
    "verdict open": "OL: open in the hot, the common, a splice or the coil.",
    "next open": (
        "Measure at the coil's leads in {box} first. Several stations open at once: look at the "
        "common, at the C terminal and at the sensor."
    ),
    "verdict short-before": (
        "Below the wire's own {wire} Ω: a short before the valve, about {share} % of the wire's "
        "ohms out."
    ),
    "next short-before": "Open the splices on that way before you dig.",
    "verdict short": (
        "The wire alone, {wire} Ω: shorted at the coil, at its splice, or very near {box}."
    ),
    "next short": "Take the coil's leads off in {box} and measure the coil by itself.",
    "verdict low": (
        "Low, but more than the wire's own {wire} Ω: a coil burnt low, a coil more, or a leak to "
        "the common. {low} to {high} Ω is expected."
    ),
    "next low": "Take the coil's leads off in {box} and measure the coil by itself.",
    "verdict third": (
        "About a third: {or_coils} coils in parallel, or a coil burnt low. {low} to {high} Ω is "
        "expected."
    ),
    "next third": "Take the coil's leads off in {box} and measure the coil by itself.",
    "verdict half": (
        "About half: {coils} coils in parallel, two hots touching, or a coil burnt low. {low} to "
        "{high} Ω is expected."
    ),
    "next half": (
        "See whether a second station reads as low. If so, measure from hot to hot: wire alone "
        "means that they touch. If not, measure the coil by itself in {box}."
    ),
    "verdict coils-too-many": (
        "Reads like {coils} coils where the job has {expected}: a coil more, a hot touching "
        "another, or a coil burnt low."
    ),
    "next coils-too-many": "Measure each coil by itself, first in {box}.",
    "verdict low-or-coils": (
        "Low: {coils} or more coils in parallel, a hot touching another, or a coil burnt low. "
        "{low} to {high} Ω is expected."
    ),
    "next low-or-coils": "Measure each coil by itself, first in {box}.",
    "verdict coils-missing": (
        "Reads like {read} coil(s) where the job has {expected}: the others are open."
    ),
    "next coils-missing": "Measure each coil by itself, first in {box}.",
    "verdict double": (
        "About double: two coils in series, a valve between two hots, the common exchanged with a "
        "hot, or a splice that adds {extra} Ω."
    ),
    "next double": "Compare with the other stations of {controller}: does one alone read right?",
    "verdict high": (
        "High by {extra} Ω: a bad splice or a nicked wire. {low} to {high} Ω is expected."
    ),
    "next high": (
        "See whether others read higher by as much: then it is their common. Else open the "
        "splices of this valve in {box}."
    ),
    "verdict ohms-mean-nothing": "Ohms say nothing here: a device or a decoder is on the way.",
    "next ohms-mean-nothing": "Measure at the coil's leads, or run the station.",
    "verdict not-known": "The job says no value to compare with.",
    "next not-known": "Compare with the neighbours.",
    # Ohms at the coil.
    "verdict coil-within": "The coil reads as expected, {low} to {high} Ω.",
    "next coil-within": "If the station does not run, look at the splices in {box} and onward.",
    "verdict coil-open": "OL at the coil: the coil or its leads are open.",
    "next coil-open": "Scrape the leads bright, measure once more; if it stays, replace the coil.",
    "verdict coil-high": "The coil reads above {low} to {high} Ω.",
    "next coil-high": (
        "A coil just run is warm: let it cool. Scrape the leads bright and measure once more."
    ),
    "verdict coil-short": "No ohms at the coil: shorted.",
    "next coil-short": "Make sure the leads are off and the probes apart; then replace the coil.",
    "verdict coil-half": "About half a coil: burnt low, or another coil still connected.",
    "next coil-half": "Make sure that both leads are off and measure once more.",
    "verdict coil-low": "Below the coil's {low} to {high} Ω: burnt low.",
    "next coil-low": "Make sure that both leads are off; if it stays, replace the coil.",
    # While it runs.
    "verdict volts-within": "Within {low} to {high} V.",
    "next volts-within": "If the valve stays shut, look at the coil and the water side.",
    "verdict volts-low": "Below the calculated {low} to {high} V.",
    "next volts-low": (
        "Measure at the controller's terminals with the station on: low there too means the "
        "supply; full there means a splice on the way."
    ),
    "verdict volts-high": (
        "Above the calculated {low} to {high} V: the supply gives more, or the valve takes no "
        "current."
    ),
    "next volts-high": "Make sure that the valve is connected and on; then measure its current.",
    "verdict volts-none": "No volts at the valve.",
    "next volts-none": (
        "Make sure that the station is on; measure at the controller's terminals, then box by box."
    ),
    "verdict pulse-only": "No steady volts or current here: this valve is not fed that way.",
    "next pulse-only": "Listen and feel while it is opened and closed once.",
    "verdict current-within": "About the expected {expected} mA.",
    "next current-within": "Nothing to mend by this value.",
    "verdict current-none": "No current: open, or the station is off.",
    "next current-none": "Make sure that the station is on; then measure ohms, power off.",
    "verdict current-low": "Well below the expected {expected} mA.",
    "next current-low": "Measure volts at the valve in {box} while it is on.",
    "verdict current-low-beside": (
        "Well below the expected {expected} mA, which counts {beside} in: one of them takes none."
    ),
    "next current-low-beside": "Measure the station and {beside} one by one.",
    "verdict current-high": (
        "Well above the expected {expected} mA: a coil more, a hot touching another, or a short."
    ),
    "next current-high": "Power off, lift the wires and measure ohms.",
    # To earth.
    "verdict insulation-sound": "A megohm or more to earth (common practice).",
    "next insulation-sound": "The job's own specification decides how much is enough.",
    "verdict insulation-doubtful": "Below a megohm to earth: doubtful (common practice).",
    "next insulation-doubtful": "Measure once more when dry; the job's specification decides.",
    "verdict insulation-bad": "Below 0.1 megohm to earth: it leaks (common practice).",
    "next insulation-bad": "Open the splices of this conductor and measure piece by piece.",
    # Several values together.
    "pattern common-open": (
        "{valves} read OL together and others do not: their common or their whole cable is open "
        "between {start} and {end}."
    ),
    "pattern common-open-somewhere": (
        "{valves} read OL together and others do not: they share no stretch of common that the "
        "others lack, so there is more than one fault, or the hots are open."
    ),
    "next common-open": (
        "Measure from hot to hot of two of them: two coils and wire means that only the common is "
        "open. Open the splices at both ends of the stretch."
    ),
    "next common-open-somewhere": "Measure from hot to hot of two of them, then coil by coil.",
    "pattern all-open": "Every value of {controller} is OL.",
    "next all-open": "Look at the C terminal, the sensor and the first splice before all else.",
    "pattern common-high": (
        "{valves} read higher by about the same {extra} Ω: a splice of the common they share, "
        "between {start} and {end}."
    ),
    "next common-high": "Open the splices of the common at both ends of that stretch.",
    "pattern exchanged": "{one} and {other} look exchanged: each reads the other's distance.",
    "next exchanged": "Run both and see which area is wet.",
    "pattern touching": "{one} and {other} read equally low: their hots touch somewhere.",
    "next touching": (
        "Measure from hot to hot: wire alone means that they touch; half of those ohms is the way "
        "out to the place."
    ),
    "pattern all-double": (
        "All of {controller} read about double, only {one} does not: {one} and the common look "
        "exchanged at the terminals."
    ),
    "next all-double": "Compare the terminals with the legend in the door.",
}
