"""The fuzzer of CI asks with documents: a table or lines of documents are read by their own tests.

Query parameters go with one kind of body and not with another, which the document cannot say, and
the fuzzer writes no newline-delimited JSON.

What many addresses share and all may leave out is tried at the first of them: there are some hundred, each
written once in the document and read by the same reader everywhere. Bodies are tried with all that they have.
"""

import schemathesis

# What the query of a document may say; the rest is for tables.
OPTIONS = {"pick", "format", "digits", "problems", "decimal", "width", "include"}


@schemathesis.hook
def before_load_schema(context, raw_schema):
    tried = set()
    for path in raw_schema["paths"].values():
        if "post" in path:
            path["get"]["parameters"] = [
                one for one in path["get"]["parameters"] if is_new(one, raw_schema, tried)
            ]
        content = path.get("post", {}).get("requestBody", {}).get("content", {})
        if "application/json" not in content:
            continue
        for media_type in [one for one in content if one != "application/json"]:
            del content[media_type]
        asked = path["post"].get("parameters", [])
        path["post"]["parameters"] = [one for one in asked if is_for_documents(one, raw_schema)]


def is_new(parameter, document, tried):
    shared = parameter.get("$ref")
    if shared is None or meant(parameter, document).get("required"):
        return True
    is_first = shared not in tried
    tried.add(shared)
    return is_first


def meant(parameter, document):
    if "$ref" not in parameter:
        return parameter
    return document["components"]["parameters"][parameter["$ref"].rsplit("/", 1)[-1]]


def is_for_documents(parameter, document):
    parameter = meant(parameter, document)
    return parameter["in"] != "query" or parameter["name"] in OPTIONS
