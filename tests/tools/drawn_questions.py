"""Questions drawn from the schemas and the example of a calculation, and their members by paths."""

import copy
import itertools
import math
import random

# Draws of an uncertain question: enough for an answer, and few enough to be quick.
DRAWS = 100


class Drawn:
    """Questions similar to the example of a calculation: numbers scaled, optional members left
    out or added, lists shortened or lengthened, different words chosen."""

    def __init__(self, name, example, schemas, seed):
        self.random = random.Random(f"{seed} {name}")
        self.example, self.schemas = example, schemas
        self.schema = schemas["".join(word.capitalize() for word in name.split("-")) + "Question"]
        self.heat = 0.0
        # A long example gets as many changes as a short one.
        self.most = min(1.0, 25 / sum(1 for _ in flattened(example)))

    def question(self):
        # Most are near the example, because contradictory questions have no answer; some are far from it.
        self.heat = self.most * 10 ** self.random.uniform(-2.5, -0.7)
        self.units = self.random.choice(["metric", "us"])
        self.alike = {}
        question = self.changed(copy.deepcopy(self.example), self.schema)
        question["units"] = self.units
        if self.random.random() < 0.05:
            self.make_uncertain(question)
        return question

    def happens(self, weight=1.0):
        return self.random.random() < weight * self.heat

    def resolved(self, schema):
        while "$ref" in schema:
            schema = self.schemas[schema["$ref"].rsplit("/", 1)[1]]
        return schema

    def branch(self, schema, value):
        """The schema of a value, chosen among several by its tag or its type."""
        schema = self.resolved(schema)
        branches = [self.resolved(one) for one in schema.get("oneOf", schema.get("anyOf", []))]
        if not branches:
            return schema
        fitting = [one for one in branches if fits(one, value)]
        return self.branch(fitting[0], value) if fitting else {}

    def changed(self, value, schema):
        schema = self.branch(schema, value)
        if isinstance(value, dict):
            return self.changed_object(value, schema)
        if isinstance(value, list):
            return self.changed_list(value, schema)
        if isinstance(value, bool):
            return value != self.happens()
        if isinstance(value, (int, float)):
            return self.changed_number(value, schema)
        words = schema.get("enum")
        return self.random.choice(words) if words and self.happens() else value

    def changed_object(self, value, schema):
        known = schema.get("properties", {})
        required = schema.get("required", [])
        others = schema.get("additionalProperties")
        for member in list(value):
            inner = known.get(member) or (others if isinstance(others, dict) else {})
            # A text may be the type tag.
            if member not in required and not isinstance(value[member], str) and self.happens():
                del value[member]
            elif member not in ("reference", "units"):
                value[member] = self.changed(value[member], inner)
        for member, inner in known.items():
            if member not in value and member not in ("uncertainty", "reference") and self.happens(0.5):
                example = self.exemplary(inner)
                if example is not None:
                    value[member] = example
        return value

    def exemplary(self, schema, depth=0):
        """The example value of a schema, or one made of its members' examples."""
        for shown in ("example", "default"):
            if shown in schema:
                return copy.deepcopy(schema[shown])
        if schema.get("examples"):
            return copy.deepcopy(self.random.choice(schema["examples"]))
        whole = self.resolved(schema)
        if whole is not schema:
            return self.exemplary(whole, depth)
        branches = schema.get("oneOf", schema.get("anyOf"))
        if branches:
            branches = [one for one in branches if one.get("type") != "null"]
            return self.exemplary(self.random.choice(branches), depth)
        if "const" in schema:
            return schema["const"]
        if "enum" in schema:
            return self.random.choice(schema["enum"])
        if "properties" in schema and depth < 4:
            made = {}
            for member in schema.get("required", []):
                made[member] = self.exemplary(schema["properties"][member], depth + 1)
            return None if None in made.values() else made
        return None

    def changed_list(self, value, schema):
        if len(value) > schema.get("minItems", 1) and self.happens(2):
            del value[self.random.randrange(len(value))]
        if value and len(value) < schema.get("maxItems", math.inf) and self.happens(2):
            twin = copy.deepcopy(self.random.choice(value))
            if isinstance(twin, dict) and "name" in twin:
                twin["name"] += " again"
            value.append(twin)
        return [self.changed(entry, schema.get("items", {})) for entry in value]

    def changed_number(self, value, schema):
        low = schema.get("minimum", schema.get("exclusiveMinimum", -math.inf))
        high = schema.get("maximum", schema.get("exclusiveMaximum", math.inf))
        kinds = schema.get("type")
        if "number" not in (kinds if isinstance(kinds, list) else [kinds]):
            step = self.random.choice([-1, 1]) if self.happens(3) else 0
            return int(min(max(value + step, low), high))
        if schema.get("x-quantity") == "Temperature" and self.units == "us":
            value = 1.8 * value + 32
        # Numbers that are equal in the example mostly stay equal: a full sump stays full.
        if value not in self.alike or self.happens():
            spread = 1.0 if self.happens(0.3) else self.heat
            factor = math.exp(self.random.gauss(0.0, spread)) if self.random.random() < 0.5 else 1.0
            self.alike[value] = value * factor
        scaled = self.alike[value]
        return scaled if low < scaled < high else value

    def make_uncertain(self, question):
        leaves = [(path, leaf) for path, leaf in flattened(question) if isinstance(leaf, float) and leaf != 0]
        chosen = self.random.sample(leaves, min(len(leaves), 2))
        inputs = {"/" + "/".join(map(str, path)): {"u": abs(leaf) / 100} for path, leaf in chosen}
        if inputs:
            question["uncertainty"] = {"inputs": inputs, "draws": DRAWS, "seed": self.random.randrange(1000)}


def fits(schema, value) -> bool:
    """Whether a value belongs to a branch of a schema, by its type and its tag."""
    kinds = schema.get("type", [])
    kinds = kinds if isinstance(kinds, list) else [kinds]
    own = {dict: "object", list: "array", str: "string", bool: "boolean"}.get(type(value), "number")
    if kinds and own not in kinds and not (own == "number" and "integer" in kinds):
        return False
    if not isinstance(value, dict):
        return "enum" not in schema or value in schema["enum"]
    for member, inner in schema.get("properties", {}).items():
        tags = inner.get("enum", [inner["const"]] if "const" in inner else None)
        if tags and len(tags) == 1 and value.get(member) not in tags:
            return False
    return all(member in value for member in schema.get("required", []))


def flattened(value, path=()):
    """The leaves of a document with their paths; an empty list or object is a leaf too."""
    if isinstance(value, (dict, list)) and value:
        steps = value.items() if isinstance(value, dict) else enumerate(value)
        for step, inner in steps:
            yield from flattened(inner, (*path, step))
    else:
        yield path, value


def rebuilt(leaves):
    """The document that has these leaves."""
    whole = {}
    for path, leaf in leaves:
        at = whole
        for step, following in itertools.pairwise(path):
            fresh = [] if isinstance(following, int) else {}
            if isinstance(at, list):
                if step == len(at):
                    at.append(fresh)
                at = at[step]
            else:
                at = at.setdefault(step, fresh)
        if isinstance(at, list):
            at.append(leaf)
        else:
            at[path[-1]] = leaf
    return whole
