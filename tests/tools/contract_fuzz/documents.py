"""The fuzzer of CI asks with documents: a table or lines of documents are read by their own tests.

Query parameters go with one kind of body and not with another, which the document cannot say, and
the fuzzer writes no newline-delimited JSON.
"""

import schemathesis

# What the query of a document may say; the rest is for tables.
OPTIONS = {"pick", "format", "digits", "problems", "decimal", "width", "include"}


@schemathesis.hook
def before_load_schema(context, raw_schema):
    for path in raw_schema["paths"].values():
        content = path.get("post", {}).get("requestBody", {}).get("content", {})
        if "application/json" not in content:
            continue
        for media_type in [one for one in content if one != "application/json"]:
            del content[media_type]
        asked = path["post"].get("parameters", [])
        path["post"]["parameters"] = [one for one in asked if is_for_documents(one, raw_schema)]


def is_for_documents(parameter, document):
    if "$ref" in parameter:
        parameter = document["components"]["parameters"][parameter["$ref"].rsplit("/", 1)[-1]]
    return parameter["in"] != "query" or parameter["name"] in OPTIONS
