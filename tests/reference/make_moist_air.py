"""Vectors of moist-air properties from psychrolib (pip install psychrolib==2.5.0), an independent
implementation of the ASHRAE Handbook Fundamentals equations. Writes moist_air.csv.

Run once: python3 make_moist_air.py > moist_air.csv
"""
import psychrolib as ps

ps.SetUnitSystem(ps.SI)
P = 101325.0
print("# source: psychrolib 2.5.0 (ASHRAE Handbook Fundamentals 2017, ch. 1), SI, 101325 Pa")
print("# made by: make_moist_air.py")
print("temperature_c,relative_humidity,saturation_pressure_pa,humidity_ratio,enthalpy_j_per_kg,volume_m3_per_kg,density_kg_per_m3")
for t in range(0, 81, 5):
    for rh in (0.3, 0.6, 0.9, 1.0):
        w = ps.GetHumRatioFromRelHum(float(t), rh, P)
        print(",".join(repr(x) for x in (
            float(t), rh, ps.GetSatVapPres(float(t)), w, ps.GetMoistAirEnthalpy(float(t), w),
            ps.GetMoistAirVolume(float(t), w, P), ps.GetMoistAirDensity(float(t), w, P))))
