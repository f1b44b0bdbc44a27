"""Piece files with one thing wrong each: the file, where it is wrong, and words the message must have."""

from typing import NamedTuple


class Broken(NamedTuple):
    """A file that must be refused."""

    text: str | bytes
    where: str
    says: str


BED = '"bed":{"needles":120,"pitch_mm":9.0}'
HEAD = f'"format":1,{BED}'
PARK = '{"do":"park"}'
EDGE = "segments[0].actions[0].edge"
FIRST = "segments[0].actions[0]"


def whole(rest: str) -> str:
    """A piece with everything it must have, and more."""
    return f'{{{HEAD},"segments":[],{rest}}}'


def bed(fields: str) -> str:
    """A piece whose bed has these fields."""
    return f'{{"format":1,"bed":{{{fields}}},"segments":[]}}'


def actions(*items: str) -> str:
    """A piece with one segment of these actions."""
    return f'{{{HEAD},"segments":[{{"kind":"actions","actions":[{",".join(items)}]}}]}}'


def hang(edge: str) -> str:
    """A piece that hangs an edge."""
    return actions(f'{{"do":"hang","needles":"L1","edge":{edge}}}')


def place(needles: str) -> str:
    """A piece that places needles, as JSON says them."""
    return actions(f'{{"do":"place","needles":{needles},"position":"hold"}}')


def seam(fields: str) -> str:
    """A piece with one seam of these fields."""
    return whole(f'"seams":[{{{fields}}}]')


def yarn(fields: str) -> str:
    """A piece with one yarn of these fields."""
    return whole(f'"yarns":[{{{fields}}}]')


def repeat(segments: str, times: int = 2) -> str:
    """A segment that repeats others."""
    return f'{{"kind":"repeat","times":{times},"segments":[{segments}]}}'


def segments(*texts: str) -> str:
    """A piece of these segments."""
    return f'{{{HEAD},"segments":[{",".join(texts)}]}}'


def actions_segment(*items: str) -> str:
    """A segment of these actions."""
    return f'{{"kind":"actions","actions":[{",".join(items)}]}}'


NOT_JSON = {
    "empty": Broken(b"", "file", "empty"),
    "spaces": Broken(b" \n\t\n", "file", "empty"),
    "only a mark": Broken(b"\xef\xbb\xbf", "file", "empty"),
    "cut off": Broken('{"format":1', "line 1 column 11", "ends in the middle"),
    "cut off in a text": Broken('{"title":"Har', "line 1 column 13", "ends in the middle"),
    "comma too many": Broken('{"format":1,\n}', "line 2 column 1", "comma"),
    "comma too few": Broken('{"format":1\n"title":"x"}', "line 2 column 1", "','"),
    "colon missing": Broken('{"format" 1}', "line 1 column 11", "':'"),
    "single quotes": Broken("{'format':1}", "line 1 column 2", "double quotes"),
    "bare word": Broken('{"format":yes}', "line 1 column 11", "JSON value"),
    "word cut off": Broken('{"on":tru }', "line 1 column 10", "true, false and null"),
    "NaN": Broken('{"format":NaN}', "line 1 column 11", "NaN"),
    "Infinity": Broken('{"format":Infinity}', "line 1 column 11", "Infinity"),
    "minus Infinity": Broken('{"format":-Infinity}', "line 1 column 12", "Infinity"),
    "leading zero": Broken('{"format":01}', "line 1 column 12", "number"),
    "two documents": Broken("{}{}", "line 1 column 3", "follows after the end"),
    "comment": Broken("// a piece\n{}", "line 1 column 1", "JSON value"),
    "line break in a text": Broken('{"title":"a\nb"}', "line 2 column 1", "line break"),
    "wrong escape": Broken('{"title":"\\x"}', "line 1 column 12", "backslash"),
    "half a character": Broken('{"title":"\\ud800"}', "line 1 column 17", "half a character"),
    "not UTF-8": Broken(b'{\n"title":"\xff"}', "line 2 column 10", "UTF-8"),
    "UTF-16": Broken('{"format":1}'.encode("utf-16"), "line 1 column 1", "UTF-8"),
    "far too deep": Broken("[" * 5000, "line 1 column 202", "too deep"),
    "huge number": Broken('{"format":' + "1" * 5000 + "}", "line 1 column 4312", "too long"),
}

TOP = {
    "a list": Broken("[]", "top level", "must be an object, not a list"),
    "a number": Broken("3", "top level", "must be an object, not 3"),
    "null": Broken("null", "top level", "must be an object, not null"),
    "nothing in it": Broken("{}", "format", "is missing"),
    "no bed": Broken('{"format":1,"segments":[]}', "bed", "is missing"),
    "no segments": Broken(f"{{{HEAD}}}", "segments", "is missing"),
    "format as text": Broken('{"format":"1"}', "format", "must be 1, not '1'"),
    "format true": Broken(f'{{"format":true,{BED},"segments":[]}}', "format", "must be 1, not true"),
    "format 1.0": Broken(f'{{"format":1.0,{BED},"segments":[]}}', "format", "must be 1, not 1.0"),
    "format 0": Broken(f'{{"format":0,{BED},"segments":[]}}', "format", "must be 1, not 0"),
    "newer format": Broken('{"format":2,"looms":[]}', "format", "newer"),
    "unknown key": Broken(whole('"colour":"red"'), "colour", "known: format, title, "),
    "odd unknown key": Broken(whole('"my key":1'), '["my key"]', "not a key"),
    "title no text": Broken(whole('"title":7'), "title", "must be text, not 7"),
    "title too long": Broken(
        whole(f'"title":"{"x" * 2001}"'), "title", "at most 2000 characters long, not 2001"
    ),
    "segments no list": Broken(f'{{{HEAD},"segments":{{}}}}', "segments", "must be a list, not an object"),
    "bed a list": Broken('{"format":1,"bed":[],"segments":[]}', "bed", "must be an object, not a list"),
}

BEDS = {
    "odd": Broken(bed('"needles":121,"pitch_mm":9'), "bed.needles", "even number, not 121"),
    "none": Broken(bed('"needles":0,"pitch_mm":9'), "bed.needles", "from 2 to 400, not 0"),
    "too many": Broken(bed('"needles":402,"pitch_mm":9'), "bed.needles", "from 2 to 400, not 402"),
    "half a needle": Broken(bed('"needles":120.5,"pitch_mm":9'), "bed.needles", "whole number"),
    "needles with a point": Broken(bed('"needles":120.0,"pitch_mm":9'), "bed.needles", "whole number"),
    "needles missing": Broken(bed('"pitch_mm":9'), "bed.needles", "is missing"),
    "pitch missing": Broken(bed('"needles":120'), "bed.pitch_mm", "is missing"),
    "pitch too fine": Broken(bed('"needles":120,"pitch_mm":1.9'), "bed.pitch_mm", "from 2 to 20, not 1.9"),
    "pitch too wide": Broken(bed('"needles":120,"pitch_mm":20.5'), "bed.pitch_mm", "from 2 to 20, not 20.5"),
    "pitch as text": Broken(
        bed('"needles":120,"pitch_mm":"9"'), "bed.pitch_mm", "number from 2 to 20, not '9'"
    ),
    "pitch null": Broken(
        bed('"needles":120,"pitch_mm":null'), "bed.pitch_mm", "number from 2 to 20, not null"
    ),
    "pitch beyond all": Broken(bed('"needles":120,"pitch_mm":1e999'), "bed.pitch_mm", "from 2 to 20"),
    "carriage in the middle": Broken(
        bed('"needles":120,"pitch_mm":9,"carriage":"middle"'),
        "bed.carriage",
        "'left' or 'right', not 'middle'",
    ),
    "unknown": Broken(
        bed('"needles":120,"pitch_mm":9,"beds":2'), "bed.beds", "known: needles, pitch_mm, carriage"
    ),
}

LISTS = {
    "empty": Broken(place('""'), f"{FIRST}.needles", "empty"),
    "small letters": Broken(place('"l1-l4"'), f"{FIRST}.needles", "not a needle name"),
    "spaces": Broken(place('"L1, L2"'), f"{FIRST}.needles", "not a needle name"),
    "zero": Broken(place('"L0"'), f"{FIRST}.needles", "not a needle name"),
    "leading zero": Broken(place('"L01"'), f"{FIRST}.needles", "not a needle name"),
    "backwards": Broken(place('"R4-L10"'), f"{FIRST}.needles", "backwards"),
    "backwards on the left": Broken(place('"L1-L4"'), f"{FIRST}.needles", "backwards"),
    "beyond the left": Broken(place('"L61-R4"'), f"{FIRST}.needles", "beyond the bed, which ends at L60"),
    "beyond the right": Broken(place('"R7,R200"'), f"{FIRST}.needles", "beyond the bed, which ends at R60"),
    "twice": Broken(place('"L4,L4"'), f"{FIRST}.needles", "L4 is named twice"),
    "twice in ranges": Broken(place('"L4-L2,L3"'), f"{FIRST}.needles", "L3 is named twice"),
    "comma at the end": Broken(place('"L4,"'), f"{FIRST}.needles", "not a needle name"),
    "two dashes": Broken(place('"L4-L3-L2"'), f"{FIRST}.needles", "not a needle name"),
    "a number": Broken(place("4"), f"{FIRST}.needles", "must be text, not 4"),
    "a list": Broken(place('["L4"]'), f"{FIRST}.needles", "must be text, not a list"),
    "far too long": Broken(place(f'"{"L1," * 2000}L1"'), f"{FIRST}.needles", "at most 4000 characters"),
    "empty in a note": Broken(actions('{"do":"note","text":"x","needles":""}'), f"{FIRST}.needles", "empty"),
    "wrap of two": Broken(actions('{"do":"wrap","needle":"L2-L1"}'), f"{FIRST}.needle", "not a needle name"),
    "wrap beyond": Broken(actions('{"do":"wrap","needle":"R61"}'), f"{FIRST}.needle", "beyond the bed"),
    "from two": Broken(
        actions('{"do":"transfer","from":"L2,L1","to":"R1"}'), f"{FIRST}.from", "not a needle name"
    ),
    "to beyond": Broken(actions('{"do":"transfer","from":"L2","to":"R99"}'), f"{FIRST}.to", "beyond the bed"),
    "small bed": Broken(
        '{"format":1,"bed":{"needles":2,"pitch_mm":9},"segments":['
        + actions_segment('{"do":"cast_on","needles":"L2"}')
        + "]}",
        f"{FIRST}.needles",
        "beyond the bed, which ends at L1",
    ),
}

ACTIONS = {
    "a number": Broken(actions("7"), FIRST, "must be an object, not 7"),
    "no do": Broken(actions("{}"), f"{FIRST}.do", "is missing"),
    "unknown do": Broken(
        actions(PARK, '{"do":"purl"}'), "segments[0].actions[1].do", "'purl' is not an action"
    ),
    "do a list": Broken(actions('{"do":[]}'), f"{FIRST}.do", "not an action"),
    "do twice": Broken(actions(PARK, '{"do":"park","do":"park"}'), "segments[0].actions[1].do", "twice"),
    "key twice": Broken(actions('{"do":"knit","rows":1,"rows":2}'), f"{FIRST}.rows", "twice"),
    "unknown key": Broken(actions('{"do":"park","side":"left"}'), f"{FIRST}.side", "known: do"),
    "no rows": Broken(actions('{"do":"knit"}'), f"{FIRST}.rows", "is missing"),
    "rows 0": Broken(
        actions(*[PARK] * 17, '{"do":"knit","rows":0}'),
        "segments[0].actions[17].rows",
        "from 1 to 9999, not 0",
    ),
    "rows 10000": Broken(actions('{"do":"knit","rows":10000}'), f"{FIRST}.rows", "from 1 to 9999, not 10000"),
    "rows 1.5": Broken(actions('{"do":"knit","rows":1.5}'), f"{FIRST}.rows", "from 1 to 9999, not 1.5"),
    "rows true": Broken(actions('{"do":"knit","rows":true}'), f"{FIRST}.rows", "from 1 to 9999, not true"),
    "rows as text": Broken(actions('{"do":"knit","rows":"4"}'), f"{FIRST}.rows", "from 1 to 9999, not '4'"),
    "from above": Broken(
        actions('{"do":"knit","rows":1,"from":"above"}'), f"{FIRST}.from", "'left' or 'right'"
    ),
    "from null": Broken(actions('{"do":"knit","rows":1,"from":null}'), f"{FIRST}.from", "not null"),
    "position": Broken(
        actions('{"do":"place","needles":"L1","position":"D"}'),
        f"{FIRST}.position",
        "'out', 'work', 'upper' or 'hold'",
    ),
    "dial 21": Broken(actions('{"do":"tension","dial":20.5}'), f"{FIRST}.dial", "from 0 to 20, not 20.5"),
    "dial below": Broken(actions('{"do":"tension","dial":-1}'), f"{FIRST}.dial", "from 0 to 20, not -1"),
    "dial true": Broken(actions('{"do":"tension","dial":true}'), f"{FIRST}.dial", "from 0 to 20, not true"),
    "counter": Broken(actions('{"do":"counter","value":10000}'), f"{FIRST}.value", "from 0 to 9999"),
    "counter below": Broken(actions('{"do":"counter","value":-1}'), f"{FIRST}.value", "from 0 to 9999"),
    "cams 1": Broken(actions('{"do":"hold_cams","on":1}'), f"{FIRST}.on", "true or false, not 1"),
    "tail below": Broken(actions('{"do":"cut","tail_cm":-1}'), f"{FIRST}.tail_cm", "not -1"),
    "yarn without a name": Broken(actions('{"do":"thread","yarn":""}'), f"{FIRST}.yarn", "must not be empty"),
    "note without text": Broken(actions('{"do":"note"}'), f"{FIRST}.text", "is missing"),
}

EDGES = {
    "nothing": Broken(hang("{}"), EDGE, "open, made_in_pass or side"),
    "no object": Broken(hang('"L1"'), EDGE, "must be an object, not 'L1'"),
    "two kinds": Broken(hang('{"open":"L1","side":"left"}'), f"{EDGE}.side", "not a key"),
    "reverse": Broken(hang('{"open":"L1","reverse":true}'), f"{EDGE}.reverse", "known: open, pass"),
    "no needles": Broken(hang('{"made_in_pass":3}'), f"{EDGE}.needles", "is missing"),
    "made before all": Broken(hang('{"made_in_pass":-1,"needles":"L1"}'), f"{EDGE}.made_in_pass", "from 0"),
    "by hand": Broken(hang('{"made_in_pass":1,"needles":"L1","by":"hand"}'), f"{EDGE}.by", "'cast_on'"),
    "one pass": Broken(hang('{"side":"left","passes":[1]}'), f"{EDGE}.passes", "at least 2"),
    "three passes": Broken(hang('{"side":"left","passes":[1,2,3]}'), f"{EDGE}.passes", "at most 2"),
    "passes backwards": Broken(hang('{"side":"left","passes":[4,2]}'), f"{EDGE}.passes", "backwards"),
    "pass 0": Broken(hang('{"side":"left","passes":[0,2]}'), f"{EDGE}.passes[0]", "from 1"),
}

THE_REST = {
    "yarn twice": Broken(
        whole('"yarns":[{"id":"a","role":"fabric"},{"id":"a","role":"waste"}]'), "yarns[1].id", "earlier yarn"
    ),
    "role": Broken(
        yarn('"id":"a","role":"lace"'), "yarns[0].role", "'fabric', 'waste' or 'ravel', not 'lace'"
    ),
    "no role": Broken(yarn('"id":"a"'), "yarns[0].role", "is missing"),
    "colour": Broken(
        yarn('"id":"a","role":"fabric","colour":"blue"'), "yarns[0].colour", "six hexadecimal digits"
    ),
    "tex": Broken(yarn('"id":"a","role":"fabric","tex":0'), "yarns[0].tex", "from 1 to 100000, not 0"),
    "gauge of no yarn": Broken(
        whole('"gauges":[{"yarn":"a","tension":6,"stitches":16,"rows":22,"over_mm":100}]'),
        "gauges[0].yarn",
        "'a'",
    ),
    "seam": Broken(seam('"kind":"zip"'), "seams[0].kind", "known: graft, mattress, overcast"),
    "half a seam": Broken(seam('"kind":"graft","a":{"open":"L1"}'), "seams[0].b", "is missing"),
    "seam beyond": Broken(
        seam('"kind":"graft","a":{"open":"L1"},"b":{"open":"R61"}'), "seams[0].b.open", "beyond the bed"
    ),
    "stitches of a graft": Broken(
        seam('"kind":"graft","a":{"open":"L1"},"b":{"open":"R1"},"stitches_in":1'),
        "seams[0].stitches_in",
        "not a key",
    ),
    "segment": Broken(
        f'{{{HEAD},"segments":[{{"kind":"cable"}}]}}', "segments[0].kind", "'cable' is not a kind"
    ),
    "segment no object": Broken(
        f'{{{HEAD},"segments":[null]}}', "segments[0]", "must be an object, not null"
    ),
    "inside a repeat": Broken(
        segments(actions_segment(), repeat(actions_segment(PARK, '{"do":"rest"}'))),
        "segments[1].segments[0].actions[1].do",
        "'rest' is not an action",
    ),
    "key twice in a repeat": Broken(
        segments(repeat(actions_segment(PARK) + "," + actions_segment('{"do":"cut","do":1}'))),
        "segments[0].segments[1].actions[0].do",
        "twice",
    ),
    "too many passes": Broken(
        segments(actions_segment(), repeat(actions_segment('{"do":"knit","rows":21}'), 9999)),
        "segments[1]",
        "200000 passes",
    ),
    "too many actions by repeating": Broken(
        segments(repeat(actions_segment(*[PARK] * 21), 9999)), "segments[0]", "200000 actions"
    ),
}
BROKEN = {
    f"{group}: {name}": broken
    for group, table in (
        ("json", NOT_JSON),
        ("top", TOP),
        ("bed", BEDS),
        ("list", LISTS),
        ("action", ACTIONS),
        ("edge", EDGES),
        ("rest", THE_REST),
    )
    for name, broken in table.items()
}
