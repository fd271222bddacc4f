"""Logger files as other tools write them, and what is in them, read by pandas and zoneinfo.

Writes tests/logger/*.csv and tests/reference/logger.csv: for each file, probe and reading, seconds since the first
reading and degrees Celsius. The values are invented (a heap at the Withybed School Garden); the forms are those of
spreadsheets and logger programs: delimiters, decimal signs, encodings, dates. Each file is read back with pandas by
options given by hand, never by guessing, and the clock of daylight saving is Python's zoneinfo (IANA database).

    pip install pandas tzdata && python3 tests/reference/make_logger.py
"""

import csv
import math
import pathlib
import random
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pandas as pd

HERE = pathlib.Path(__file__).parent
FILES = HERE.parent / "logger"
LONDON = ZoneInfo("Europe/London")


def core(hour):
    return round(15 + 50 * (1 - math.exp(-hour / 40)) + 0.3 * math.sin(hour), 1)


def edge(hour):
    return round(12 + 30 * (1 - math.exp(-hour / 60)) + 0.2 * math.cos(hour), 1)


def air(hour):
    return round(10 + 6 * math.sin((hour - 9) / 24 * 2 * math.pi), 1)


def comma(value):
    return f"{value:.1f}".replace(".", ",")


def write(name, text, encoding="utf-8"):
    (FILES / name).write_bytes(text.encode(encoding))


def rows_of(start, count, minutes):
    """Local times by plain addition, with hours since the first."""
    for step in range(count):
        yield start + timedelta(minutes=minutes * step), minutes * step / 60


def semicolons():
    out = ["Date;Time;Core (°C);Edge (°C);Air (°C)"]
    for when, hour in rows_of(datetime(2025, 5, 30, 18, 0), 60, 60):
        gap = hour in (5, 6)
        cells = ["---"] * 3 if gap else [comma(f(hour)) for f in (core, edge, air)]
        out.append(";".join([when.strftime("%d.%m.%Y"), when.strftime("%H:%M:%S")] + cells))
    write("semicolons.csv", "\r\n".join(out) + "\r\n", "cp1252")
    frame = pd.read_csv(FILES / "semicolons.csv", sep=";", decimal=",", encoding="cp1252", na_values=["---"])
    when = pd.to_datetime(frame["Date"] + " " + frame["Time"], format="%d.%m.%Y %H:%M:%S")
    return when, frame[["Core (°C)", "Edge (°C)", "Air (°C)"]]


def spreadsheet():
    base = datetime(1899, 12, 30)
    out = ["Time,Core,Edge"]
    for when, hour in rows_of(datetime(2024, 2, 28, 9, 30), 40, 90):
        serial = (when - base) / timedelta(days=1)
        out.append(f"{serial:.9f},{core(hour)},{edge(hour)}")
    write("spreadsheet.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "spreadsheet.csv")
    when = pd.to_datetime(frame["Time"], unit="D", origin="1899-12-30").dt.round("s")
    return when, frame[["Core", "Edge"]]


def utf16():
    out = ["Timestamp\tCore °C\tTop °C"]
    for when, hour in rows_of(datetime(2025, 6, 1, 0, 0), 48, 30):
        out.append(f"{when:%Y-%m-%d %H:%M}\t{core(hour)}\t{edge(hour)}")
    write("utf16.csv", "\ufeff" + "\r\n".join(out) + "\r\n", "utf-16-le")
    frame = pd.read_csv(FILES / "utf16.csv", sep="\t", encoding="utf-16")
    return pd.to_datetime(frame["Timestamp"]), frame[["Core °C", "Top °C"]]


def utf16be_bare():
    """Without a byte-order mark."""
    out = ["Timestamp|Core °C"]
    for when, hour in rows_of(datetime(2025, 6, 1, 0, 0), 24, 60):
        out.append(f"{when:%Y-%m-%dT%H:%M:%S}|{core(hour)}")
    write("utf16be-bare.csv", "\n".join(out) + "\n", "utf-16-be")
    frame = pd.read_csv(FILES / "utf16be-bare.csv", sep="|", encoding="utf-16-be")
    return pd.to_datetime(frame["Timestamp"]), frame[["Core °C"]]


def quotes():
    """Line breaks and doubled quotes in cells, decimal commas in quotes between commas, a remark in quotes."""
    with open(FILES / "quotes.csv", "w", newline="", encoding="utf-8-sig") as file:
        out = csv.writer(file, quoting=csv.QUOTE_ALL)
        out.writerow(["Date and\ntime", 'Core "deep"\n(°C)', "Edge\n(°C)", "Remark"])
        for when, hour in rows_of(datetime(2025, 3, 14, 7, 15), 30, 45):
            remark = 'watered,\nturned "by hand"' if hour == 3 else ""
            out.writerow([when.strftime("%d/%m/%Y %H:%M"), comma(core(hour)), comma(edge(hour)), remark])
    frame = pd.read_csv(FILES / "quotes.csv", decimal=",", encoding="utf-8-sig")
    when = pd.to_datetime(frame.iloc[:, 0], format="%d/%m/%Y %H:%M")
    frame = frame.iloc[:, 1:3]
    frame.columns = [" ".join(name.split()) for name in frame.columns]
    return when, frame


def preamble():
    out = [
        "Logger report",
        "Serial number;4711",
        "Interval;00:20:00",
        "Started;02.07.2025",
        "",
        "No.;Date/Time;Core;Bottom;Battery",
        ";;°C;°C;V",
    ]
    for step, (when, hour) in enumerate(rows_of(datetime(2025, 7, 13, 6, 0), 50, 20)):
        out.append(f"{step + 1};{when:%d-%b-%Y %H:%M:%S};{comma(core(hour))};{comma(edge(hour))};3,6")
    write("preamble.csv", "\r\n".join(out) + "\r\n")
    frame = pd.read_csv(FILES / "preamble.csv", sep=";", decimal=",", skiprows=[0, 1, 2, 3, 4, 6])
    frame = frame.rename(columns={"Core": "Core °C", "Bottom": "Bottom °C"})
    when = pd.to_datetime(frame["Date/Time"], format="%d-%b-%Y %H:%M:%S")
    return when, frame[["Core °C", "Bottom °C"]]


def month_first():
    out = ['"Plot Title: heap 2"', '"#","Date Time","Core, °F","Edge, °F"']
    for step, (when, hour) in enumerate(rows_of(datetime(2024, 7, 3, 22, 30), 40, 30)):
        f = [round(f(hour) * 1.8 + 32, 2) for f in (core, edge)]
        out.append(f"{step + 1},{when:%m/%d/%y %I:%M:%S %p},{f[0]},{f[1]}")
    out.append(f"41,{datetime(2024, 7, 13, 12, 0):%m/%d/%y %I:%M:%S %p},131.0,100.4")
    write("month-first.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "month-first.csv", skiprows=1)
    when = pd.to_datetime(frame["Date Time"], format="%m/%d/%y %I:%M:%S %p")
    frame = frame[["Core, °F", "Edge, °F"]]
    return when, (frame - 32) / 1.8


def order_by_sequence():
    """No figure above 12, so that only the sequence of days tells."""
    out = ["when,core,edge"]
    for when, hour in rows_of(datetime(2024, 2, 3, 0, 0), 48, 180):
        out.append(f"{when:%d/%m/%Y %H:%M},{core(hour)},{edge(hour)}")
    write("order-by-sequence.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "order-by-sequence.csv")
    return pd.to_datetime(frame["when"], format="%d/%m/%Y %H:%M"), frame[["core", "edge"]]


def london(name, start_utc, count, minutes):
    """A clock on the wall that follows daylight saving."""
    out = ["Local time,Core,Edge"]
    start = start_utc.replace(tzinfo=ZoneInfo("UTC"))
    for step in range(count):
        when = (start + timedelta(minutes=minutes * step)).astimezone(LONDON)
        hour = minutes * step / 60
        out.append(f"{when:%Y-%m-%d %H:%M},{core(hour)},{edge(hour)}")
    write(name, "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / name)
    when = pd.to_datetime(frame["Local time"]).dt.tz_localize(LONDON, ambiguous="infer")
    return when.dt.tz_convert("UTC"), frame[["Core", "Edge"]]


def autumn():
    return london("london-autumn.csv", datetime(2024, 10, 26, 20, 0), 40, 30)


def spring():
    return london("london-spring.csv", datetime(2025, 3, 29, 20, 0), 40, 30)


def skipped():
    """A wall clock that was not put forward in time: 01:00 and 01:30 that night never were. Read as zoneinfo does
    (PEP 495, fold=0): by the offset before the change."""
    out = ["Local time,Core"]
    for when, hour in [(datetime(2025, 3, 30, 0, 0), 0.0), (datetime(2025, 3, 30, 0, 30), 0.5),
                       (datetime(2025, 3, 30, 1, 0), 1.0), (datetime(2025, 3, 30, 1, 30), 1.5),
                       (datetime(2025, 3, 30, 3, 0), 2.0), (datetime(2025, 3, 30, 3, 30), 2.5)]:
        out.append(f"{when:%Y-%m-%d %H:%M},{core(hour)}")
    write("london-skipped.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "london-skipped.csv")
    local = [datetime.strptime(text, "%Y-%m-%d %H:%M").replace(tzinfo=LONDON) for text in frame["Local time"]]
    return pd.Series([when.astimezone(ZoneInfo("UTC")) for when in local]), frame[["Core"]]


def offsets():
    """ISO 8601 with the offset of each moment."""
    out = ["time,core,edge"]
    start = datetime(2024, 10, 26, 22, 0, tzinfo=ZoneInfo("UTC"))
    for step in range(30):
        when = (start + timedelta(minutes=20 * step)).astimezone(LONDON)
        out.append(f"{when.isoformat()},{core(step / 3)},{edge(step / 3)}")
    write("offsets.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "offsets.csv")
    return pd.to_datetime(frame["time"], utc=True), frame[["core", "edge"]]


def unix():
    out = ["epoch,core,edge"]
    for step in range(30):
        k = [round(f(step) + 273.15, 2) for f in (core, edge)]
        out.append(f"{1_750_000_000 + 3600 * step},{k[0]},{k[1]}")
    write("unix.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "unix.csv")
    return pd.to_datetime(frame["epoch"], unit="s", utc=True), frame[["core", "edge"]] - 273.15


def long_form():
    out = ["sensor;when;value °C"]
    for when, hour in rows_of(datetime(2025, 9, 20, 12, 0), 20, 60):
        for name, f in (("core 1", core), ("edge 1", edge), ("outside", air)):
            out.append(f"{name};{when:%Y/%m/%d %H:%M};{f(hour)}")
    write("long.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "long.csv", sep=";")
    wide = frame.pivot(index="when", columns="sensor", values="value °C").reset_index()
    return pd.to_datetime(wide["when"], format="%Y/%m/%d %H:%M"), wide[["core 1", "edge 1", "outside"]]


def newest_first():
    out = ["Time;Core;Air"]
    rows = list(rows_of(datetime(2025, 8, 1, 0, 0), 36, 60))
    for when, hour in reversed(rows):
        out.append(f"{when:%d.%m.%Y %H:%M};{comma(core(hour))};{comma(air(hour))}")
    write("newest-first.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "newest-first.csv", sep=";", decimal=",")
    when = pd.to_datetime(frame["Time"], format="%d.%m.%Y %H:%M")
    return when.iloc[::-1], frame[["Core", "Air"]].iloc[::-1]


def hourly():
    """Means of each hour, by pandas: column by column of ten-minute readings."""
    out = ["time,core"]
    for when, hour in rows_of(datetime(2025, 6, 1, 5, 20), 200, 10):
        out.append(f"{when:%Y-%m-%d %H:%M:%S},{core(hour)}")
    write("ten-minutes.csv", "\n".join(out) + "\n")
    frame = pd.read_csv(FILES / "ten-minutes.csv", parse_dates=["time"])
    start = frame["time"].iloc[0]
    frame["seconds"] = (frame["time"] - start).dt.total_seconds()
    means = frame.set_index("time").resample("1h").mean()
    return means["seconds"], means[["core"]]


def demo():
    """The file of the Withybed School Garden's summer heap, invented: six weeks of three probes every half hour, with
    what goes wrong in a real one (a turning, a knocked cable, a day without battery, an evening in the grass)."""
    chance = random.Random(5)
    out = ["Withybed School Garden;summer heap", "Date;Time;Core (°C);Edge (°C);Air (°C)"]
    start = datetime(2025, 6, 14, 16, 0)
    for when, hour in rows_of(start, 42 * 48, 30):
        day = hour / 24
        if 18.0 <= day < 19.2:
            continue
        turned = max(0.0, day - 9) if day >= 9 else None
        warm = 44 * (1 - math.exp(-day / 1.1)) * math.exp(-max(0, day - 5) / 40)
        if turned is not None:
            warm *= 1 - 0.45 * math.exp(-turned / 0.6)
        outside = 17 + 6.5 * math.sin((hour + 16 - 9) / 24 * 2 * math.pi) + 2 * math.sin(day / 3)
        values = [
            19 + warm + chance.gauss(0, 0.15),
            18 + 0.62 * warm + 0.08 * (outside - 17) + chance.gauss(0, 0.2),
            outside + chance.gauss(0, 0.2),
        ]
        if 25.0 <= day < 28.5:
            values[1] = outside + 0.6 + chance.gauss(0, 0.2)
        cells = [comma(value) for value in values]
        if chance.random() < 0.002:
            cells[0] = comma(values[0] - 35)
        if chance.random() < 0.002:
            cells[1] = "OL"
        if chance.random() < 0.0015:
            cells[2] = "9999"
        out.append(";".join([when.strftime("%d.%m.%Y"), when.strftime("%H:%M")] + cells))
    folder = HERE.parent.parent / "demo-data"
    (folder / "withybed-summer-logger.csv").write_bytes("\r\n".join(out).encode("cp1252") + b"\r\n")


def main():
    FILES.mkdir(exist_ok=True)
    demo()
    makers = {
        "semicolons.csv": semicolons, "spreadsheet.csv": spreadsheet, "utf16.csv": utf16,
        "utf16be-bare.csv": utf16be_bare, "quotes.csv": quotes, "preamble.csv": preamble,
        "month-first.csv": month_first, "order-by-sequence.csv": order_by_sequence,
        "london-autumn.csv": autumn, "london-spring.csv": spring, "london-skipped.csv": skipped,
        "offsets.csv": offsets, "unix.csv": unix, "long.csv": long_form, "newest-first.csv": newest_first,
        "ten-minutes.csv": hourly,
    }
    with open(HERE / "logger.csv", "w", newline="", encoding="utf-8") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["file", "probe", "seconds", "celsius"])
        for name, make in makers.items():
            when, values = make()
            first = when.iloc[0]
            for probe in values.columns:
                for moment, value in zip(when, values[probe]):
                    if pd.isna(value):
                        continue
                    seconds = moment if isinstance(moment, float) else (moment - first).total_seconds()
                    out.writerow([name, probe, f"{seconds:.3f}", f"{value:.4f}"])


if __name__ == "__main__":
    main()
