"""Writes every question of a document and its answer as TypeScript, for the compiler to check.

Run by tests/tools/clients/run with the address of the service and its document.
"""

import json
import os
import sys
import urllib.request

address, file = sys.argv[1:]
with open(file, encoding="utf-8") as opened:
    paths = json.load(opened)["paths"]
headers = {"content-type": "application/json"}
if key := os.environ.get("KEY"):
    headers["authorization"] = f"Bearer {key}"

print('import type { components } from "./schema.js";')
for path, item in paths.items():
    if "post" not in item:
        continue
    content = item["post"]["requestBody"]["content"]["application/json"]
    question = content["schema"]["$ref"].rsplit("/", 1)[-1]
    asked = json.dumps(content["example"])
    request = urllib.request.Request(address + path, data=asked.encode(), headers=headers)
    with urllib.request.urlopen(request, timeout=60) as answered:
        answer = answered.read().decode()
    record = question.removesuffix("Question") + "Record"
    for name, value in ((question, asked), (record, answer)):
        print(f'export const a{name}: components["schemas"]["{name}"] = {value};')
