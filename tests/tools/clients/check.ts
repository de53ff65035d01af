// Asks a service with a client generated from its own document.
//
// Run by tests/tools/clients/run. The answers are compared with the examples of the
// document and with a mass balance calculated here: litres (or gallons) of
// concentrate present and wanted.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import createClient from "openapi-fetch";
import type { components, paths } from "./schema.js";

type Question<Name extends "TopUpQuestion" | "BlendQuestion"> = components["schemas"][Name];

const [, , address, file] = process.argv;
assert(address && file);
const document = JSON.parse(readFileSync(file, "utf8"));
const key = process.env.KEY;
const client = createClient<paths, "application/json" | "application/problem+json">({
  baseUrl: address,
  ...(key ? { headers: { Authorization: `Bearer ${key}` } } : {}),
});

const near = (found: number | undefined, expected: number) =>
  assert(
    Math.abs((found ?? NaN) - expected) <= 1e-9 * Math.max(1, Math.abs(expected)),
    `${found} is not ${expected}`,
  );

const workedExample = (path: string) => {
  const post = document.paths[path].post;
  const answers = post.responses["200"].$ref.split("/").pop();
  const answer = document.components.responses[answers].content["application/json"].example;
  return [post.requestBody.content["application/json"].example, answer];
};

async function theExampleIsAnsweredAsTheDocumentSays() {
  const [example, answer] = workedExample("/v1/top-up");
  const question: Question<"TopUpQuestion"> = example;
  const { data } = await client.POST("/v1/top-up", {
    body: question,
    params: { header: { "X-Request-Id": "invented-example-1" } },
  });
  assert.deepEqual(data, answer);

  const { sump, target } = question;
  assert(sump.reading?.method === "refractometer");
  const strength = (sump.reading.brix * sump.reading.factor) / 100;
  const concentrate = (sump.capacity * target.concentration) / 100 - sump.volume * strength;
  const added = (name: string) => data?.answer.add.find((part) => part.name === name)?.volume;
  near(added("concentrate"), concentrate);
  near(added("water"), sump.capacity - sump.volume - concentrate);
}

const aTopUpOfItsOwn = (volume: number): Question<"TopUpQuestion"> => ({
  units: "us",
  sump: { capacity: 50, volume, reading: { method: "refractometer", brix: 4, factor: 1.25 } },
  target: { concentration: 8 },
});

async function aQuestionOfItsOwnIsAnsweredByPostAndByGet() {
  const posted = await client.POST("/v1/top-up", { body: aTopUpOfItsOwn(40) });
  const asked = await client.GET("/v1/top-up", {
    params: {
      query: {
        units: "us",
        "sump.capacity": 50,
        "sump.volume": 40,
        "sump.concentration": 5,
        "target.concentration": 8,
      },
    },
  });
  for (const { data } of [posted, asked]) {
    assert.equal(data?.units, "us");
    // 50·8 % − 40·5 % = 2 gallons of concentrate, and 8 of water.
    near(data.answer.add[0]?.volume, 2);
    near(data.answer.add[1]?.volume, 8);
  }
}

async function aProblemIsAProblem() {
  const { data, error, response } = await client.POST("/v1/top-up", { body: aTopUpOfItsOwn(60) });
  assert.equal(response.status, 422);
  assert.equal(data, undefined);
  assert.equal(error?.type, "/problems/inconsistent");
  assert.equal(error.status, 422);
  assert.equal(error.errors?.[0]?.pointer, "/sump/volume");
}

async function aListAndAChoiceAreRead() {
  const question: Question<"BlendQuestion"> = {
    units: "metric",
    reference: "invented example: client",
    target: { volume: 800, concentration: 6 },
    stocks: [
      { name: "recycled", concentration: 4.2, volume: 500, unit_cost: 0.05, properties: { tramp_oil: 0.7 } },
      { name: "concentrate", concentration: 100, unit_cost: 6.4 },
      { name: "water", concentration: 0, unit_cost: 0.004 },
    ],
    limits: { tramp_oil: { max: 0.5 } },
  };
  const { data } = await client.POST("/v1/blend", { body: question });
  assert(data && data.reference === question.reference);
  // All 500 L of recycled fluid hold 21 L of the 48 L of concentrate that are wanted.
  [500, 27, 273].forEach((volume, place) => near(data.answer.take[place]?.volume, volume));
  const binding = data.answer.binding[0];
  assert(binding?.worth_in === "money_per_volume" && data.answer.binding.length === 1);
  assert.equal(binding.what, "/stocks/0/volume");
  // A litre more of it saves 0.042 L of concentrate and 0.958 L of water.
  near(binding.worth, 0.042 * 6.4 + 0.958 * 0.004 - 0.05);
}

async function namesOfTheCallersOwnGoThereAndBack() {
  const [example, answer] = workedExample("/v1/blend");
  const question: Question<"BlendQuestion"> = example;
  assert.equal(question.stocks[0]?.properties?.hardness, 310);
  const { data } = await client.POST("/v1/blend", { body: question });
  assert.deepEqual(data, answer);
}

async function theIndexListsWhatThereIs() {
  const { data } = await client.GET("/v1");
  assert(data?.calculations.every((line) => line.address in document.paths));
}

await theExampleIsAnsweredAsTheDocumentSays();
await aQuestionOfItsOwnIsAnsweredByPostAndByGet();
await aProblemIsAProblem();
await aListAndAChoiceAreRead();
await namesOfTheCallersOwnGoThereAndBack();
await theIndexListsWhatThereIs();
console.log("the TypeScript client was answered");
