"""The demo trial's setting: a harbour that does not exist, its stations, the elements, their true gains."""

INVENTED = (
    "Invented. No such place, station, tuner or trial exists; the gains say nothing about these metals."
)
SEED = 1
ROUNDS = 6
MINUTES_PER_RUN = 12

METER = {"unit": "bars", "lowest": 0, "highest": 10, "resolution": 1}
DB_IN_A_BAR = 2.0
PAD_DB = 3.0
GAIN_IN_BARS = {
    "brass-rod": 0.0,
    "bronze-wire": -0.3,
    "copper-strip": 0.6,
    "aluminium-tube": 0.55,
    "steel-strand": -1.2,
    "brass-rod-b": 0.0,
    "brass-rod-pad": -PAD_DB / DB_IN_A_BAR,
}

# RF channel: (station, how many of its channels the RF channel carries)
STATIONS = {
    "21": ("Brellmouth", 4),
    "22": ("Vellory", 1),
    "23": ("Tannick", 2),
    "24": ("Ombrey", 3),
    "25": ("Skarrowe", 1),
    "26": ("Morravy", 4),
    "28": ("Dunskell", 1),
    "29": ("Fennoway", 2),
    "30": ("Garvle", 1),
    "31": ("Istlewick", 3),
    "32": ("Kelverby", 2),
    "33": ("Lummetry", 1),
    "34": ("Nessockle", 4),
    "36": ("Orrelby", 1),
    "37": ("Pellickan", 2),
    "38": ("Quarnow", 3),
    "39": ("Roskelby", 1),
    "41": ("Swaletor", 2),
    "43": ("Threllow", 4),
    "45": ("Umberskerry", 1),
    "47": ("Wexmarsh", 3),
}
NUMBERS = ("One", "Two", "Three", "Four")

BRASS = {"material": "brass", "form": "rod", "diameter_mm": 3.0, "length_mm": 690, "condition": "new"}
ELEMENTS: list[dict[str, object]] = [
    {
        "id": "brass-rod",
        "label": "3 mm brass rod",
        **BRASS,
        "cost": {"amount": 4.2, "currency": "EUR"},
        "minutes_to_make": 15,
    },
    {
        "id": "bronze-wire",
        "label": "Phosphor bronze wire, 13 SWG",
        "material": "phosphor bronze",
        "form": "wire",
        "length_mm": 690,
        "gauge": {"table": "swg", "number": 13},
        "condition": "new",
        "cost": {"amount": 2.1, "currency": "EUR"},
        "minutes_to_make": 10,
    },
    {
        "id": "copper-strip",
        "label": "Copper strip, 10 by 0.5 mm",
        "material": "copper",
        "form": "strip",
        "diameter_mm": 10.0,
        "length_mm": 690,
        "condition": "new",
        "cost": {"amount": 5.8, "currency": "EUR"},
        "minutes_to_make": 25,
    },
    {
        "id": "aluminium-tube",
        "label": "6 mm aluminium tube",
        "material": "aluminium",
        "form": "tube",
        "diameter_mm": 6.0,
        "length_mm": 690,
        "condition": "new",
        "cost": {"amount": 1.9, "currency": "EUR"},
        "minutes_to_make": 20,
    },
    {
        "id": "steel-strand",
        "label": "2.5 mm stranded stainless steel",
        "material": "stainless steel",
        "form": "stranded",
        "diameter_mm": 2.5,
        "length_mm": 690,
        "condition": "new",
        "cost": {"amount": 3.4, "currency": "EUR"},
        "minutes_to_make": 10,
    },
    {"id": "brass-rod-b", "label": "3 mm brass rod, spare copy", **BRASS, "twin_of": "brass-rod"},
    {
        "id": "brass-rod-pad",
        "label": "3 mm brass rod behind a 3 dB pad",
        **BRASS,
        "pad_of": "brass-rod",
        "pad_db": PAD_DB,
    },
]


def channels_of_demo() -> list[dict[str, str]]:
    """The forty-six channels with the RF channel each is carried on."""
    return [
        {"id": f"{station} {number}", "rf_channel": rf_channel}
        for rf_channel, (station, count) in STATIONS.items()
        for number in NUMBERS[:count]
    ]


def demo_trial() -> dict[str, object]:
    """The trial document of the demo."""
    return {
        "title": "Quayside trial at Brellmouth Haven (invented demo data)",
        "meter": METER,
        "margin": 0.5,
        "confidence": 0.95,
        "planned_rounds": ROUNDS,
        "looks": "every round",
        "reference": "brass-rod",
        "region": "europe",
        "seed": SEED,
        "elements": ELEMENTS,
        "channels": channels_of_demo(),
        "minutes_per_run": MINUTES_PER_RUN,
        "site": "indoor, upper floor (invented)",
    }
