"""The job file as a table of fields: which keys there are, what each holds, what it means."""

from __future__ import annotations

from typing import Any

from cardgen.job import job_parts, quantities
from cardgen.job.order_fields import REELS
from cardgen.job.runs import (
    CONDUCTOR_WORDS,
    CONDUCTOR_WORDS_OR_NOT,
    RUN,
    TERMINALS,
    WHOLE_CONDUCTOR,
    HotShape,
    StationName,
)
from cardgen.reading.shapes import (
    IDENTIFIER,
    MENTIONED_NAME,
    PRINTED_TEXT,
    TEXT,
    YES_NO,
    BlockShape,
    Field,
    ListOf,
    OneOf,
    OrNotKnown,
    PrintedText,
    SaidShape,
    TableOf,
    TextsByHeading,
    Whole,
)
from cardgen.trade.copper import READING_TEMPERATURE, Construction

_NAME = SaidShape(MENTIONED_NAME)
_NAME_OR_NOT = OrNotKnown(MENTIONED_NAME)
PRINTED_NAME = PrintedText(IDENTIFIER)
STATION_NAME = PrintedText(StationName())
_WORDS = SaidShape(TEXT)
_PRINTED_WORDS = SaidShape(PRINTED_TEXT)
_CONDUCTORS = ListOf(
    CONDUCTOR_WORDS, what="a list of conductors", example="[A-K1 red, A-S1 red A1]", single=True
)
_HOT = HotShape(
    CONDUCTOR_WORDS_OR_NOT,
    what="a list of conductors",
    example="[A-K1 red, A-S1 red A1]",
    single=True,
)
_WHOLE_CONDUCTORS = ListOf(
    WHOLE_CONDUCTOR, what="a list of conductors", example="[A-K1 white]", single=True
)
_CONTACT = OneOf("the kind of contact", {str(c): c for c in job_parts.Contact})
_COMMONS = ListOf(
    CONDUCTOR_WORDS, what="a list of conductors", example="[A-K1 white, A-K2 white]", single=True
)
_CONTROLLERS = ListOf(
    SaidShape(IDENTIFIER), what="a list of controllers", example="[A, B]", single=True
)
_EMPTY: Any = ()

JOB_INFO = BlockShape(
    "'job'",
    job_parts.JobInfo,
    Field(
        "code",
        SaidShape(PRINTED_NAME),
        required=True,
        help="short code, printed on each card: 'LARK-06'",
    ),
    Field("site", _PRINTED_WORDS, required=True, help="name of the site as the crew knows it"),
    Field("revision", Whole("a revision", 1, 9999), required=True, help="counts up: 1, 2, 3"),
    Field("date", quantities.DATE, required=True, help="date of this revision: '2026-03-14'"),
    Field(
        "warm",
        quantities.CELSIUS,
        default=READING_TEMPERATURE,
        help="temperature of the conductors for the voltage drop, '20 C' if left out",
    ),
    Field(
        "water",
        OneOf("the water", {str(w): w for w in job_parts.Water}),
        default=None,
        help="'reclaimed' puts the warning on tags and legends, in a purple band",
    ),
    Field(
        "insulation test",
        quantities.TEST_VOLTS,
        help="voltage of the insulation test, from the specification: '500 V'",
    ),
    Field(
        "least insulation",
        quantities.MEGOHMS,
        help="least insulation of a conductor to ground: '1 Mohm'",
    ),
    Field(
        "ground limit",
        quantities.GROUND_OHMS,
        help="most ohms of a ground rod, from the specification: '10 ohm'",
    ),
    Field("owner", PRINTED_TEXT, default="", help="for the closeout packet: who owns the valves"),
    Field("contractor", PRINTED_TEXT, default="", help="the firm that signs the closeout packet"),
    Field(
        "license",
        PrintedText(TEXT, number_alone=True),
        default="",
        help="the contractor's license, as it is written: 'LI-0042'",
        into="license_number",
    ),
)
RECORD_INFO = BlockShape(
    "'record'",
    job_parts.RecordInfo,
    Field(
        "address",
        SaidShape(quantities.ADDRESS),
        required=True,
        help="web address under which the job record is: 'https://jobs.example.com'",
    ),
    Field(
        "key",
        SaidShape(quantities.KEY),
        required=True,
        help="12 or more capitals and digits; 'cardgen new' makes one",
    ),
)
COIL = BlockShape(
    "the coil",
    job_parts.Coil,
    Field("supply", SaidShape(quantities.SUPPLY), required=True, help="'24 V AC' or 'DC latching'"),
    Field(
        "resistance",
        quantities.OHMS,
        required=True,
        may_be_unknown=True,
        help="from its data sheet, at 20 C: '30 ohm'; 'not known' if nobody knows it",
    ),
    Field(
        "inrush",
        quantities.AMPERES,
        may_be_unknown=True,
        help="current when it starts: '0.40 A'",
    ),
    Field(
        "holding",
        quantities.AMPERES,
        may_be_unknown=True,
        help="current while it is on: '0.23 A'",
    ),
    Field(
        "minimum",
        quantities.VOLTS,
        may_be_unknown=True,
        help="least voltage at which it opens: '20 V'",
    ),
    Field(
        "leads",
        quantities.GAUGE,
        may_be_unknown=True,
        default=quantities.GAUGE.parse("18 AWG"),  # common practice, no source
        help="gauge of its two leads, '18 AWG' if left out",
    ),
)
CONNECTOR = BlockShape(
    "the connector",
    job_parts.Connector,
    Field(
        "takes",
        ListOf(
            quantities.COMBINATION,
            what="a list of sets",
            example="[2-5 x 18 AWG, 1-3 x 18 AWG + 1-2 x 14 AWG]",
            single=True,
        ),
        required=True,
        help="sets of conductors on its label: ['2-5 x 18 AWG', '1-3 x 18 AWG + 1-2 x 14 AWG']",
    ),
)
POLARITY = BlockShape(
    "the polarity",
    job_parts.Polarity,
    Field("hot", PRINTED_TEXT, required=True, help="solenoid lead on the hot: 'red'"),
    Field("common", PRINTED_TEXT, required=True, help="solenoid lead on the common: 'black'"),
)
_PATH_HELP = "all conductors of this side of a two-wire path"
CONTROLLER = BlockShape(
    "the controller",
    job_parts.Controller,
    Field(
        "place",
        PRINTED_TEXT,
        required=True,
        may_be_unknown=True,
        help="where it hangs: 'garage wall'; 'not known' if nobody knows it",
        into="where",
    ),
    Field(
        "supply",
        SaidShape(quantities.SUPPLY),
        required=True,
        help="'24 V AC', '9 V DC latching' or 'two-wire'",
    ),
    Field(
        "supply tolerance",
        SaidShape(quantities.TOLERANCE),
        default=None,
        help="how far an AC supply may be off, '-10/+17 %' if left out (assumed)",
    ),
    Field(
        "stations",
        SaidShape(Whole("the number of station terminals", 0, 999)),
        required=True,
        help="how many station terminals it has",
    ),
    Field(
        "terminals", TERMINALS, default=_EMPTY, help="in physical order: [C, 1 to 8, MV, SEN, SEN]"
    ),
    Field("coil", _NAME_OR_NOT, help="the coil of its stations, by name from 'coils'"),
    Field("common", _COMMONS, default=_EMPTY, help="all conductors of its common"),
    Field("path 1", _COMMONS, default=_EMPTY, help=_PATH_HELP),
    Field("path 2", _COMMONS, default=_EMPTY, help=_PATH_HELP),
    Field("path polarity", YES_NO, default=False, help="'yes' if the path must not be crossed"),
    Field("station limit", quantities.AMPERES, help="most current on one terminal"),
    Field("total limit", quantities.AMPERES, help="most current in all"),
    Field("transformer", quantities.VOLT_AMPERES, help="what its transformer gives: '40 VA'"),
    Field("fuse", quantities.AMPERES, help="the fuse in its output: '1.5 A'"),
    Field(
        "stations at once",
        Whole("the stations that run at once", 1, 9),
        default=1,
        help="how many stations its programs run together, '1' if left out",
    ),
    Field(
        "valves per station",
        Whole("the most valves on one station", 1, 9),
        help="most solenoids on one terminal",
    ),
    Field("sensor contact", _CONTACT, help="what its sensor input is set to"),
    Field(
        "sensor jumper",
        SaidShape(OneOf("the state of the sensor jumper", {str(j): j for j in job_parts.Jumper})),
        help="'fitted' or 'removed'",
    ),
    Field(
        "jumpers",
        ListOf(
            SaidShape(ListOf(_WORDS, what="a jumper", example="[7, 8]", least=2)),
            what="a list of jumpers",
            example="[[7, 8, 3]]",
        ),
        default=_EMPTY,
        help="terminals linked on purpose: [[7, 8, 3]]",
    ),
    Field("polarity", POLARITY, help="for latching coils: {hot: red, common: black}"),
    Field("wire limit", quantities.LENGTH, help="longest run to a latching valve"),
    Field("decoder limit", quantities.LENGTH, help="longest wire from a decoder to its valve"),
    Field("surge interval", quantities.LENGTH, help="longest path between surge units"),
    Field(
        "surge decoders",
        Whole("the most decoders between surge units", 1, 99),
        help="most decoders between surge units",
    ),
    Field("box", _NAME, help="the valve box in which it hangs, if it does"),
)
_CONSTRUCTION = Field(
    "construction",
    OneOf("the construction", {str(c): c for c in Construction}),
    default=Construction.SOLID,
    help="'solid' or 'stranded'",
)
_RESISTANCE = Field(
    "resistance",
    quantities.OHMS_PER_LENGTH,
    help="of one conductor at 20 C, if its data sheet gives it: '6.5 ohm/1000 ft'",
)
_GAUGE_OR_NOT = OrNotKnown(quantities.GAUGE)
SINGLE = BlockShape(
    "an entry of the singles",
    job_parts.Single,
    Field(
        "color",
        SaidShape(quantities.COLOR),
        required=True,
        help="'red' or 'white/blue'",
        also="colour",
    ),
    Field(
        "gauge",
        _GAUGE_OR_NOT,
        required=True,
        help="'14 AWG' or '2.5 mm2'; 'not known' if nobody knows it",
    ),
    Field(
        "flags",
        ListOf(
            SaidShape(PrintedText(quantities.FLAGS)),
            what="a list of flags",
            example="[A1 to A8, COM-A]",
            single=True,
        ),
        default=_EMPTY,
        help="what is written on each conductor's flag: 'A1 to A8'",
    ),
    Field("count", Whole("the count", 1, 200), default=1, help="how many, if they have no flags"),
    Field("to", _NAME, help="last box they reach"),
    _CONSTRUCTION,
    _RESISTANCE,
)
CABLE = BlockShape(
    "the cable",
    job_parts.Cable,
    Field("gauge", _GAUGE_OR_NOT, help="'18 AWG' or '1.5 mm2'; 'not known' if nobody knows it"),
    Field("palette", _NAME, help="the colors in it, by name from 'palettes'"),
    Field(
        "colors",
        ListOf(quantities.COLOR, what="a list of colors", example="[white, red, blue]"),
        default=_EMPTY,
        help="the colors in it, instead of a palette",
        also="colours",
    ),
    Field(
        "singles",
        ListOf(
            SINGLE, what="a list of singles", example="[{color: red, gauge: 14 AWG, flags: A1}]"
        ),
        default=_EMPTY,
        help="single conductors in one bundle: [{color: red, gauge: 14 AWG, flags: A1}]",
    ),
    Field(
        "band", PRINTED_TEXT, default="", help="tape that tells it from a like cable: 'yellow tape'"
    ),
    Field("shielded", YES_NO, default=False, help="'yes' if it has a shield, as sensor cable has"),
    _CONSTRUCTION,
    _RESISTANCE,
    Field(
        "run",
        RUN,
        required=True,
        help="from the controller outward: [A, 85 ft, VB-1, not known, VB-2]",
    ),
    Field(
        "reels",
        REELS,
        default=_EMPTY,
        help="reels on which it is sold, if they are not those of the job: [500 ft, 1000 ft]",
    ),
)
BOX = BlockShape(
    "the box",
    job_parts.Box,
    Field(
        "place",
        PRINTED_TEXT,
        default="",
        may_be_unknown=True,
        help="where it is: 'front walk'",
        into="where",
    ),
    Field(
        "kind",
        OneOf("the kind of box", {str(k): k for k in job_parts.BoxKind}),
        help="'valve box' if left out",
    ),
    Field("size", PRINTED_TEXT, default="", may_be_unknown=True, help="'10 in round'"),
    Field(
        "ties",
        ListOf(
            PRINTED_TEXT, what="a list of ties", example="[6.5 ft from garage corner]", single=True
        ),
        default=_EMPTY,
        may_be_unknown=True,
        help="two distances to fixed points",
    ),
    Field(
        "coordinates", PrintedText(quantities.COORDINATES), default="", help="'51.12345, -1.12345'"
    ),
    Field(
        "spares",
        SaidShape(Whole("the number of spares", 0, 99)),
        help="least number of free conductors that must reach it: '2'",
    ),
)
VALVE = BlockShape(
    "the valve",
    job_parts.Valve,
    Field("box", _NAME, required=True, help="the box it is in"),
)
_TERMINAL_NUMBER = SaidShape(Whole("a terminal", 1, 999))
STATION = BlockShape(
    "the station",
    job_parts.Station,
    Field(
        "area",
        _PRINTED_WORDS,
        required=True,
        may_be_unknown=True,
        help="what it waters: 'front lawn west'; 'not known' if nobody knows it",
    ),
    Field("box", _NAME, help="the box its valve is in"),
    Field(
        "hot",
        _HOT,
        default=_EMPTY,
        may_be_unknown=True,
        help="'A-K1 red', or all conductors outward; 'not known' for what nobody can name",
    ),
    Field("common", _CONDUCTORS, default=_EMPTY, help="only if it is not the controller's common"),
    Field("controller", _NAME, help="only if the station's name does not begin with it"),
    Field("terminal", _TERMINAL_NUMBER, help="only if the station's name does not end with it"),
    Field("coil", _NAME_OR_NOT, help="only if it is not the controller's usual coil"),
    Field("valves", TableOf("the valves", PRINTED_NAME, VALVE), default={}, help="of a twin"),
    Field("device", _PRINTED_WORDS, help="a device between terminal and valve: 'doubling device'"),
    Field("decoder", _NAME, help="on a two-wire path: the decoder that drives it"),
    Field(
        "notes",
        ListOf(
            _PRINTED_WORDS, what="a list of notes", example="[keep clear of the oak]", single=True
        ),
        default=_EMPTY,
        help="what else the next person must know",
    ),
    Field(
        "extra",
        TextsByHeading("the extra columns"),
        default={},
        help="further columns of your own list: {Plants: roses}; kept, never printed",
    ),
)
_SPECIAL_HOT = Field(
    "hot",
    _HOT,
    required=True,
    may_be_unknown=True,
    help="its conductors from the controller outward; 'not known' for what nobody can name",
)
MASTER_VALVE = BlockShape(
    "the master valve",
    job_parts.MasterValve,
    Field("controllers", _CONTROLLERS, required=True, help="whose terminal it is on: A"),
    Field(
        "isolators", _CONTROLLERS, default=_EMPTY, help="controllers that feed it by an isolator"
    ),
    Field("terminal", _WORDS, help="'MV' if left out"),
    Field("box", _NAME, required=True, help="the box it is in"),
    _SPECIAL_HOT,
    Field(
        "return",
        _CONDUCTORS,
        default=_EMPTY,
        help="its own return, if it has one",
        into="return_path",
    ),
    Field("normally open", YES_NO, default=False, help="'yes' if power closes it"),
    Field(
        "live only to close",
        YES_NO,
        default=False,
        help="'yes' if its terminal is live only to shut the water off",
    ),
    Field("coil", _NAME_OR_NOT, help="only if it is not the controller's usual coil"),
)
RELAY = BlockShape(
    "the relay",
    job_parts.Relay,
    Field("controller", _NAME, required=True, help="whose terminal it is on: A"),
    Field("terminal", _WORDS, help="'MV' if left out"),
    Field("box", _NAME, required=True, help="where it sits"),
    _SPECIAL_HOT,
    Field("return", _CONDUCTORS, default=_EMPTY, help="its own return", into="return_path"),
    Field("coil", _NAME_OR_NOT, required=True, help="its coil, by name from 'coils'"),
)
DECODER = BlockShape(
    "the decoder",
    job_parts.Decoder,
    Field("controller", _NAME, help="only if there is more than one two-wire controller"),
    Field("box", _NAME, required=True, help="the box it is in"),
    Field(
        "address",
        SaidShape(Whole("an address", 1, 999_999)),
        required=True,
        help="the number it answers to: 201",
    ),
    Field(
        "serial", PrintedText(TEXT, number_alone=True), default="", help="the number on its label"
    ),
    Field("to valve", SaidShape(quantities.LENGTH), help="length of wire to its valve"),
    Field(
        "leads",
        quantities.GAUGE,
        default=quantities.GAUGE.parse("18 AWG"),  # common practice, no source
        help="gauge of its leads, '18 AWG' if left out",
    ),
)
SENSOR = BlockShape(
    "the sensor",
    job_parts.Sensor,
    Field(
        "kind",
        OneOf("the kind of sensor", {str(k): k for k in job_parts.SensorKind}),
        required=True,
        help="rain, flow or other",
    ),
    Field("controllers", _CONTROLLERS, required=True, help="the controllers it stops: A"),
    Field("contact", SaidShape(_CONTACT), help="'normally closed' or 'normally open'"),
    Field("in common", _WHOLE_CONDUCTORS, default=_EMPTY, help="the commons behind its contact"),
    Field("conductors", _CONDUCTORS, default=_EMPTY, help="its own wires to SEN"),
    Field(
        "place",
        PRINTED_TEXT,
        default="",
        may_be_unknown=True,
        into="where",
        help="where it is: 'garage eave'",
    ),
)
SPARE = BlockShape(
    "the spare",
    job_parts.Spare,
    Field("conductor", _CONDUCTORS, required=True, help="'A-K1 orange'"),
    Field("from", _NAME, into="begins", help="the first place it is reserved in"),
    Field("to", _NAME, help="the last box it is reserved in"),
    Field("reserved for", PRINTED_TEXT, default="", help="what it is kept for"),
)
PIGTAIL = BlockShape(
    "the pigtail",
    job_parts.Pigtail,
    Field("at", _NAME, required=True, help="the box or controller it is in"),
    Field("gauge", quantities.GAUGE, required=True, help="'14 AWG' or '2.5 mm2'"),
    Field("color", quantities.COLOR, help="'white'", also="colour"),
    Field("length", quantities.SHORT_LENGTH, help="'8 in'"),
)
CHANGE = BlockShape(
    "the change",
    job_parts.Change,
    Field("revision", Whole("a revision", 1, 9999), required=True, help="in which it was made"),
    Field("date", quantities.DATE, required=True, help="'2026-03-14'"),
    Field("text", _PRINTED_WORDS, required=True, help="what was changed"),
)
JOINTS = ListOf(
    SaidShape(ListOf(_WORDS, what="a joint", example="[A-K1 red in, A1]")),
    what="a list of joints",
    example="[[A-K1 red in, A1], [A-K1 white in, A1]]",
    least=0,
)
PALETTE = ListOf(
    quantities.COLOR, what="a palette, which is a list of colors,", example="[white, red, blue]"
)
