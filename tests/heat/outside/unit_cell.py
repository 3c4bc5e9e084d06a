#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""When the core between the holes of a perforated sheet is past melting, in two dimensions.

One cell of a staggered pattern is taken as a ring round its hole (outer radius from the open area, insulated there), half of the
thickness high (insulated in the middle). Enthalpy by explicit finite volumes: heat capacity of the solid below melting_start, the mean
of both and the latent heat spread evenly to melting_end, that of the melt above; water behind the same film on the face and on the wall
of the hole. Written apart from src/heat, which has one dimension only; inputs are the shipped figures. Prints a line a stock item:
sheet, thickness, perforation, seconds. Needs numpy and Python 3.11."""
import math
import pathlib
import sys
import tomllib

try:
    import numpy as np
except ImportError:
    print("numpy is not installed: apt-get install python3-numpy")
    sys.exit(77)

MATERIALS = pathlib.Path(__file__).resolve().parents[3] / "materials"
HOLES_MM = {"micro": (1, 6), "mini": (2, 6), "maxi": (3, 6)}  # diameter, pitch: perforations.toml
FILM, START = 400.0, 22.0  # W/m2K, C
CASES = [("elastic-clear", 2.4, "micro"), ("elastic-clear", 3.2, "micro"), ("blended-even", 3.2, "mini"),
         ("blended-light", 3.2, "maxi"), ("elastic-slow", 3.2, "maxi"), ("rubbery-stout", 4.8, "micro")]


def ready_s(sheet, thickness_mm, perforation, across=24, deep=24):
    def figure(key):
        return sheet["thermal"][key]["value"]
    usual = sheet["practice"]["bath"]
    bath = (usual["value"] - 32) / 1.8 if usual["unit"] == "degF" else usual["value"]
    rho, k = figure("density"), figure("conductivity")
    solid, melt, latent = figure("specific_heat_solid"), figure("specific_heat_melt"), figure("latent_heat") * 1e3
    begin, end = figure("melting_start"), figure("melting_end")
    diameter, pitch = HOLES_MM[perforation]
    open_area = math.pi / (2 * math.sqrt(3)) * (diameter / pitch) ** 2
    hole = diameter / 2e3
    rim = hole / math.sqrt(open_area)
    dr, dz = (rim - hole) / across, thickness_mm / 2e3 / deep
    edge = hole + dr * np.arange(across + 1)
    volume = (edge[1:] ** 2 - edge[:-1] ** 2)[:, None] / 2 * dz  # per radian
    over_melting = 0.5 * (solid + melt) * (end - begin) + latent
    enthalpy = np.full((across, deep), solid * START)
    step = 0.4 * rho * min(solid, melt) / (2 * k * (1 / dr**2 + 1 / dz**2))
    wall = edge[0] * dz / (1 / FILM + dr / 2 / k)
    face = volume[:, 0] / dz / (1 / FILM + dz / 2 / k)
    time = 0.0
    while time < 900:
        above = enthalpy - solid * begin
        warm = np.where(above < 0, enthalpy / solid,
                        np.where(above < over_melting, begin + (end - begin) * above / over_melting,
                                 end + (above - over_melting) / melt))
        if warm[-1, 0] >= end:
            return time
        gain = np.zeros_like(warm)
        outward = k * edge[1:-1, None] * dz / dr * (warm[:-1] - warm[1:])
        gain[:-1] -= outward
        gain[1:] += outward
        upward = k * volume / dz**2 * (warm[:, :-1] - warm[:, 1:])
        gain[:, :-1] -= upward
        gain[:, 1:] += upward
        gain[0] += wall * (bath - warm[0])
        gain[:, -1] += face * (bath - warm[:, -1])
        enthalpy += step * gain / (rho * volume)
        time += step
    return math.inf


for name, mm, holes in CASES:
    with open(MATERIALS / "sheets" / f"{name}.toml", "rb") as file:
        print(f"{name} {mm} {holes} {ready_s(tomllib.load(file), mm, holes):.1f}")
