"""The screens that are shot and examined: a name and a path each. {first}, {second}, {foldout}
and {entry} stand for the drawn shelf's own names."""

PATHS = {
    "ask": "/",
    "answers": "/?q=tillbrook+5D10",
    "near": "/?q=12BE6+12BA6+12AT6+50B5+35W4",
    "nothing": "/?q=zzzzz",
    "kin": "/kin?tubes=12BE6+12BA6+12AT6+50B5+35W4",
    "sets": "/sets",
    "set": "/set/{entry}",
    "look": "/look/{first}?q=5D10+12BE6",
    "beside": "/look/{first}?beside={second}",
    "foldout": "/look/{foldout}",
    "trouble": "/look/nosuch",
    "jobs": "/jobs",
    "drawer": "/drawer",
    "doubts": "/doubts",
    "check": "/check/{first}",
    "shelf": "/shelf",
}
