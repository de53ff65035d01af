"""The yardsticks of the tables benchmark: the same top-ups by polars and by pandas.

    top_up_in_frames.py polars|pandas IN OUT

Reads the table, computes what to drain and add, writes it beside the caller's
columns, and prints the seconds that this took, without the time to start.
"""

import sys
import time

COLUMNS = (
    "answer.drain [L]",
    "answer.add.0.volume [L]",
    "answer.add.1.volume [L]",
    "answer.premix.concentration [%]",
    "answer.after.mark [scale of the reading]",
)


# As strong as a premix may be, % by volume.
PREMIX_AT_MOST = 20


def by_polars(table: str, out: str) -> None:
    """As one lazy query, on the threads that POLARS_MAX_THREADS says."""
    col, when, lit = polars.col, polars.when, polars.lit
    v_0, v_t, c_t = col("sump.volume"), col("sump.capacity"), col("target.concentration")
    frame = polars.scan_csv(table)
    frame = frame.with_columns(c_0=col("sump.reading.factor") * col("sump.reading.brix"))
    frame = frame.with_columns(room=v_t - v_0, wanted=c_t * v_t - col("c_0") * v_0)
    most = PREMIX_AT_MOST * col("room")
    # What is too weak is drained until a premix brings it there; what is too rich stays.
    short = (col("wanted") - most) / (PREMIX_AT_MOST - col("c_0"))
    frame = frame.with_columns(when(col("wanted") > most).then(short).otherwise(lit(0.0)).alias(COLUMNS[0]))
    drained = col(COLUMNS[0])
    frame = frame.with_columns(
        brings=(col("wanted") + col("c_0") * drained).clip(lower_bound=0), added=col("room") + drained
    )
    comes_to = (col("c_0") * (v_0 - drained) + col("brings")) / v_t
    frame = frame.with_columns(
        (col("brings") / 100).alias(COLUMNS[1]),
        (col("added") - col("brings") / 100).alias(COLUMNS[2]),
        when(col("added") > 0).then(col("brings") / col("added")).alias(COLUMNS[3]),
        (comes_to / col("sump.reading.factor")).alias(COLUMNS[4]),
        problem=lit(""),
    )
    frame.drop("c_0", "room", "wanted", "brings", "added").sink_csv(out)


def by_pandas(table: str, out: str) -> None:
    """As pandas does it, on one thread."""
    frame = pandas.read_csv(table)
    v_0, v_t, c_t = frame["sump.volume"], frame["sump.capacity"], frame["target.concentration"]
    factor = frame["sump.reading.factor"]
    c_0 = factor * frame["sump.reading.brix"]
    room, wanted = v_t - v_0, c_t * v_t - c_0 * v_0
    drain = ((wanted - PREMIX_AT_MOST * room) / (PREMIX_AT_MOST - c_0)).clip(lower=0)
    brings = (wanted + c_0 * drain).clip(lower=0)
    added = room + drain
    mark = (c_0 * (v_0 - drain) + brings) / v_t / factor
    answers = (drain, brings / 100, added - brings / 100, (brings / added).where(added > 0), mark)
    for heading, answer in zip(COLUMNS, answers):
        frame[heading] = answer
    frame["problem"] = ""
    frame.to_csv(out, index=False)


if __name__ == "__main__":
    by, table, out = sys.argv[1:]
    if by == "polars":
        import polars
    else:
        import pandas
    began = time.perf_counter()
    by_polars(table, out) if by == "polars" else by_pandas(table, out)
    print(time.perf_counter() - began)
