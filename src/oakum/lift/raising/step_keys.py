"""The steps every lift has, by the key a rig file and the minutes of earlier lifts name them with."""

STEP_KEYS = (
    "brief",
    "check gear",
    "turn",
    "sling",
    "weigh",
    "trim",
    "trial",
    "set down again",
    "fill bags",
    "ascend",
    "pause",
    "take over",
    "divers out",
    "through the surface",
    "drain",
    "land",
    "wet store",
)
