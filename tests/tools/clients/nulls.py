"""Sends every question of a document with a null for each member that is not given.

Run by tests/tools/clients/run, with pydantic models generated from that document. That is
how such models write what they hold unless they are told otherwise; the service takes such a
null as not given, so the answer has to be that of the example, to the last bit of every number.
"""

import json
import os
import sys

import httpx
import models

address, file = sys.argv[1:]
with open(file, encoding="utf-8") as opened:
    paths = json.load(opened)["paths"]
headers = {"content-type": "application/json"}
if key := os.environ.get("KEY"):
    headers["authorization"] = f"Bearer {key}"


def answered(path: str, question: str) -> str:
    response = client.post(path, content=question)
    assert response.status_code == 200, f"{path}\nasked: {question}\nanswered: {response.text}"
    return response.text


def given(model: models.BaseModel) -> object:
    """What a typed document was read from, without what was not given."""
    return json.loads(model.model_dump_json(by_alias=True, exclude_unset=True))


nulls = 0
with httpx.Client(base_url=address, headers=headers, timeout=60) as client:
    for path, item in paths.items():
        if "post" not in item:
            continue
        content = item["post"]["requestBody"]["content"]["application/json"]
        name = content["schema"]["$ref"].rsplit("/", 1)[-1]
        question = getattr(models, name).model_validate(content["example"])
        assert given(question) == content["example"], name
        # By the names of the document: `from` and `with` are words of Python.
        with_nulls = question.model_dump_json(by_alias=True)
        nulls += with_nulls.count(":null")
        answer = answered(path, json.dumps(content["example"]))
        assert json.loads(answered(path, with_nulls)) == json.loads(answer), with_nulls
        record = getattr(models, name.removesuffix("Question") + "Record")
        assert given(record.model_validate_json(answer)) == json.loads(answer), record

assert nulls > 0, "nothing was left out"
print(f"questions of pydantic models were answered, with {nulls} nulls for what is not given")
