"""The yardstick of the load test: a top-up by refractometer in FastAPI.

Answers the same request with the same members, for a sump that is to become
stronger or weaker without draining. Prints the address it serves on.
"""

import socket
from enum import StrEnum
from typing import Annotated, Literal

import uvicorn
from fastapi import FastAPI, HTTPException
from pydantic import BaseModel, ConfigDict, Field

WATER_DENSITY = 0.9982072  # kg/L at 20 °C
CLOSES_TO = 1e-9

Volume = Annotated[float, Field(ge=0, le=1e9)]
Capacity = Annotated[float, Field(gt=0, le=1e9)]
Percent = Annotated[float, Field(ge=0, le=100)]


class Question(BaseModel):
    model_config = ConfigDict(extra="forbid")


class Reading(Question):
    method: Literal["refractometer"]
    brix: Annotated[float, Field(ge=0, le=95)]
    factor: Annotated[float, Field(gt=0, le=100)]


class Sump(Question):
    capacity: Capacity
    volume: Volume
    reading: Reading


class Target(Question):
    concentration: Percent


class TopUp(Question):
    units: Literal["metric"]
    reference: Annotated[str | None, Field(max_length=128)] = None
    sump: Sump
    target: Target
    draining: Literal["allowed", "not_allowed"] = "allowed"


class Way(StrEnum):
    IN = "in"
    STAYS = "stays"


class Addition(BaseModel):
    name: str
    volume: float


class Premix(BaseModel):
    volume: float
    concentration: float
    ratio: str


class After(BaseModel):
    volume: float
    concentration: float
    mark: float


class Step(BaseModel):
    action: str
    name: str | None = None
    volume: float | None = None
    concentration: float | None = None
    mark: float | None = None
    text: str


class Answer(BaseModel):
    drain: float
    add: list[Addition]
    premix: Premix
    after: After
    misses_by: float
    steps: list[Step]


class Residual(BaseModel):
    volume: float
    concentrate: float
    water: float
    mass: float


class Stream(Residual):
    name: str
    way: Way


class Balance(BaseModel):
    streams: list[Stream]
    residual: Residual


class Assumption(BaseModel):
    pointer: str
    text: str


class Caution(BaseModel):
    code: str
    text: str


class Record(BaseModel):
    reference: str | None
    units: str
    calculation: str
    version: str
    answer: Answer
    balance: Balance
    assumptions: list[Assumption]
    cautions: list[Caution]


ASSUMPTIONS = [
    Assumption(pointer="", text="Volumes add: a mix takes up what its parts took up."),
    Assumption(
        pointer="/stocks",
        text="Neat concentrate at 100 % and pure water at 0 % were taken to be at hand, both with "
        "the density of water at 20 °C, 0.9982072 kg/L.",
    ),
    Assumption(
        pointer="/sump",
        text="The fluid in the sump was taken to be well mixed, with the density of water at "
        "20 °C, 0.9982072 kg/L.",
    ),
    Assumption(
        pointer="/sump/reading/water_brix",
        text="The make-up water was taken to read 0 °Brix.",
    ),
    Assumption(
        pointer="/sump/reading/temperature",
        text="The reading was taken to be compensated for temperature.",
    ),
    Assumption(pointer="/target/volume", text="Filled to the sump's capacity."),
]
CAUTIONS = [
    Caution(
        code="machine-may-start",
        text="A machine can start and a pump can draw while you work at its sump. Lock it out "
        "before you reach in, and mind sharp chips.",
    ),
    Caution(
        code="skin-and-mist",
        text="Used fluid carries fines, microbes and biocide. Keep it off the skin, do not "
        "breathe its mist, and follow the fluid's safety data sheet.",
    ),
    Caution(
        code="concentrate-on-skin",
        text="Neat concentrate irritates skin and eyes and is slippery underfoot. Wear the gloves "
        "and eye protection that its safety data sheet names, and clean up spills at once.",
    ),
]

app = FastAPI()


@app.post("/v1/top-up", response_model_exclude_none=True)
async def top_up(question: TopUp) -> Record:
    sump, reading = question.sump, question.sump.reading
    v_0, v_t = sump.volume, sump.capacity
    c_0, c_t = reading.factor * reading.brix, question.target.concentration
    a = v_t - v_0
    if a <= 0:
        raise HTTPException(422, "The sump is full.")
    c_a = (c_t * v_t - c_0 * v_0) / a
    if not 0 <= c_a <= 100:
        raise HTTPException(422, "The target is out of reach without draining.")
    concentrate = a * c_a / 100
    water = a - concentrate

    streams = [
        stream("sump before", Way.IN, v_0, c_0),
        stream("concentrate", Way.IN, concentrate, 100),
        stream("water", Way.IN, water, 0),
        stream("sump after", Way.STAYS, v_t, c_t),
    ]
    balance = Balance(streams=streams, residual=residual(streams))
    if abs(balance.residual.concentrate) > CLOSES_TO * (v_0 + a):
        raise HTTPException(422, "The balance does not close.")
    mark = c_t / reading.factor
    steps = [
        Step(
            action="pour",
            name="water",
            volume=water,
            concentration=0,
            text="Pour this into a clean vessel outside the sump.",
        ),
        Step(
            action="stir_in",
            name="concentrate",
            volume=concentrate,
            concentration=100,
            text="Stir this in slowly: concentrate into water, never water into concentrate.",
        ),
        Step(
            action="add_premix",
            volume=a,
            concentration=c_a,
            text="Pour the premix into the sump slowly, where the fluid returns.",
        ),
        Step(
            action="reread",
            concentration=c_t,
            mark=mark,
            text="Let the fluid circulate until it is well mixed, read it again, and correct what "
            "is still missing.",
        ),
    ]
    answer = Answer(
        drain=0,
        add=[
            Addition(name="concentrate", volume=concentrate),
            Addition(name="water", volume=water),
        ],
        premix=Premix(volume=a, concentration=c_a, ratio=ratio(c_a)),
        after=After(volume=v_t, concentration=c_t, mark=mark),
        misses_by=0,
        steps=steps,
    )
    return Record(
        reference=question.reference,
        units=question.units,
        calculation="top-up",
        version="0.2.0",
        answer=answer,
        balance=balance,
        assumptions=ASSUMPTIONS,
        cautions=CAUTIONS,
    )


def ratio(c: float) -> str:
    return f"1:{(100 - c) / c:.4g}" if c > 0 else "0:1"


def stream(name: str, way: Way, v: float, c: float) -> Stream:
    concentrate = v * c / 100
    return Stream(
        name=name,
        way=way,
        volume=v,
        concentrate=concentrate,
        water=v - concentrate,
        mass=v * WATER_DENSITY,
    )


def residual(streams: list[Stream]) -> Residual:
    def left(member: str) -> float:
        signs = ((1 if s.way is Way.IN else -1, s) for s in streams)
        return sum(sign * getattr(s, member) for sign, s in signs)

    return Residual(
        volume=left("volume"),
        concentrate=left("concentrate"),
        water=left("water"),
        mass=left("mass"),
    )


if __name__ == "__main__":
    listener = socket.socket()
    listener.bind(("127.0.0.1", 0))
    print("http://{}:{}".format(*listener.getsockname()), flush=True)
    config = uvicorn.Config(app, loop="uvloop", http="httptools", access_log=False, log_level="warning")
    uvicorn.Server(config).run(sockets=[listener])
