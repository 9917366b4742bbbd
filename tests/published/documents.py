"""The documents whose printed figures are checked: one entry for one edition.

Where a text came to us without its title, or is a library's test, its figures are checked and shown, and not counted.
An edition that did not come with the figure is left open; one that is recalled says so.
"""

from __future__ import annotations

from tests.published.printed import Document

_NO_TITLE = "its title is not on record"
_LIBRARY = "test values of a program library"

# air
US_ATMOSPHERE = Document("US Standard Atmosphere (NASA, NOAA, USAF)", "1976")
ASHRAE = Document("ASHRAE Handbook, Fundamentals", "1989 to 2005, from memory")
MUNSON = Document("Munson, Young, Okiishi: Fundamentals of Fluid Mechanics", "4th, from memory")
ISO_1217 = Document("ISO 1217, Displacement compressors, acceptance tests")
ASME_COMPRESSORS = Document("ASME test code for displacement compressors")
SCFM_TEXT = Document("compressed-air engineering text", not_counted=_NO_TITLE)
RECEIVER_LIBRARY = Document("US DOE / ORNL plant-energy calculation library", not_counted=_LIBRARY)
ARASU = Document("Arasu: Thermal Engineering")
TIP_SHEET_3 = Document("US DOE, Compressed Air Tip Sheet 3, Minimize Compressed Air Leaks", "2004, from memory")
SOURCEBOOK = Document("US DOE, Improving Compressed Air System Performance: A Sourcebook for Industry", "2003, from memory")
THERMODYNAMICS = Document("Cengel, Boles: Thermodynamics, An Engineering Approach", "5th, from memory")
MORAN = Document("Moran, Shapiro: Fundamentals of Engineering Thermodynamics", "5th, from memory")
CRC = Document("CRC Handbook of Chemistry and Physics", "62nd")
ISO_2533 = Document("ISO 2533, Standard atmosphere", "1975, from memory")
CAGI = Document("Compressed Air and Gas Institute: Compressed Air and Gas Handbook")
CRANE = Document("Crane Technical Paper 410, Flow of Fluids")
# heat and liquids
CENGEL = Document("Cengel: Heat and Mass Transfer", "2nd, from memory")
INCROPERA = Document("Incropera, DeWitt: Fundamentals of Heat and Mass Transfer", "5th, from memory")
CENGEL_CIMBALA = Document("Cengel, Cimbala: Fluid Mechanics, Fundamentals and Applications", "1st, from memory")
WORKED_FLUIDS = Document("Fluid Mechanics - Worked Examples for Engineers")
WALL_NOTES = Document("university notes on a composite wall", not_counted=_NO_TITLE)
HVAC_TEXTS = Document("HVAC texts", not_counted=_NO_TITLE)
EN_12831 = Document("EN 12831, Heating systems in buildings, design heat load", "2003, from memory")
# electricity and engines
NEC = Document("NFPA 70, National Electrical Code", "2023")
NEC_EXAMPLES = Document("NFPA 70, National Electrical Code")
NEMA_MG_1 = Document("NEMA MG 1, Motors and Generators")
ASTM_B258 = Document("ASTM B258, Standard nominal diameters of AWG sizes of solid round wires")
POWER_TEXT = Document("engineering text with worked power relations", not_counted=_NO_TITLE)
DIP_TEXT = Document("text that restates the divider of IEEE Std 141 and 399", not_counted=_NO_TITLE)
DROP_TEXT = Document("text on the K method of voltage drop", not_counted=_NO_TITLE)
FARM_TEXT = Document("agricultural engineering text", not_counted=_NO_TITLE)
ENERGY_HANDBOOK = Document("Handbook of Energy Engineering Calculations")
EIA = Document("US EIA, heat content of fuels")
GREET = Document("GREET")
# people
NIOSH_TESTS = Document("42 CFR 84, Approval of respiratory protective devices")
OSHA_BREATHING = Document("29 CFR 1910.134, Respiratory protection")
OSHA_NOISE = Document("29 CFR 1910.95, Occupational noise exposure")
MINE_NOISE = Document("30 CFR 62, Occupational noise exposure (mines)")
# vehicles and weights
FHWA_CLASSES = Document("FHWA vehicle classes by gross vehicle weight rating")
LICENCES = Document("49 CFR 383, Commercial driver's license standards")
CARRIERS = Document("49 CFR 390, Federal motor carrier safety regulations, general")
BRIDGE_LAW = Document("23 CFR 658, Truck size and weight (with 23 USC 127)")
BRIDGE_BOOKLET = Document("FHWA, Bridge Formula Weights (booklet)", "2006, from memory")
ARMY_BALANCE = Document("US Army TM 55-1500-342-23")
FAA_BALANCE = Document("FAA-H-8083-1, Aircraft Weight and Balance Handbook", "1999, from memory")
STATICS_TEXT = Document("statics textbook, truck and tanker", not_counted=_NO_TITLE)
# units, foam, money
SP_811 = Document("NIST Special Publication 811, Guide for the Use of the SI")
HANDBOOK_44 = Document("NIST Handbook 44, Specifications and tolerances")
FOAM_DEFINITION = Document("definition of the board foot", not_counted="a definition, no document")
LOAN_TEXT = Document("mathematics tutorial on loans", not_counted=_NO_TITLE)
EXERCISE = Document("engineering-economy exercise", not_counted=_NO_TITLE)
REGULATION_Z = Document("12 CFR 1026 (Regulation Z), Truth in Lending", "2013, from memory")
BLANK_TARQUIN = Document("Blank, Tarquin: Engineering Economy", "6th, from memory")
