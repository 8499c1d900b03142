"""What the formulas rest on, by the key that stands in their References."""

SOURCES = {
    "ac-43-13-1b": "FAA AC 43.13-1B change 1, chapter 8, as quoted in the FAASTeam tip of November 2011.",
    "ahrons": "E. L. Ahrons, Steam Locomotive Construction and Maintenance.",
    "army-ring-gap": "US Army engine manual: 0.003 in of ring gap for 0.001 in of bore, as a public text quotes it.",
    "asme-b1-1": "ASME B1.1-2003, Unified inch screw threads.",
    "astm-d2270": "ASTM D2270-10, Calculating viscosity index from kinematic viscosity at 40 and 100 °C.",
    "astm-d341": "ASTM D341, Viscosity-temperature charts for liquid petroleum products.",
    "bevan": "T. Bevan, The Theory of Machines.",
    "boresi": "A. P. Boresi, R. J. Schmidt, Advanced mechanics of materials, chapter 11.",
    "cam-laws": "Standard laws of cam motion, as in R. L. Norton, Design of Machinery; from memory, peaks derived.",
    "colibri-balancing": "Colibri BOH 80-21D manual, p. 25, after ISO 1940-1.",
    "definition": "Definition.",
    "derived": "Derived here from geometry or mechanics.",
    "en-13906-1": "EN 13906-1, Cylindrical helical springs of round wire: compression springs; from memory.",
    "fed-std-h28-2b": "FED-STD-H28/2B, Screw-thread standards for federal services: unified inch screw threads.",
    "fordmuscle-2008": "FordMuscle, Rotating Assembly, April 2008, page 2.",
    "fox-mcdonald": "R. W. Fox, A. T. McDonald, Introduction to fluid mechanics.",
    "furuhama-1961": "S. Furuhama and T. Tada, Bulletin of JSME 4(16), 684 (1961), doi 10.1299/jsme1958.4.684.",
    "gong-2016": (
        "H. Gong, J. Liu, X. Ding: Calculation of the effective bearing contact radius for precision "
        "tightening of bolted joints, Advances in Mechanical Engineering 8(9), 2016, doi "
        "10.1177/1687814016668445."
    ),
    "iso-1": "ISO 1:2016, Standard reference temperature for geometrical and dimensional properties.",
    "iso-12781-1": "ISO 12781-1:2011, Flatness: vocabulary and parameters.",
    "iso-14405-1": "ISO 14405-1:2016, Dimensional tolerancing: linear sizes.",
    "iso-21940-11": "ISO 21940-11:2016, Rotor balancing: procedures and tolerances for rotors with rigid behaviour.",
    "iso-2533": "ISO 2533:1975, Standard atmosphere.",
    "iso-261": "ISO 261:1998, ISO general purpose metric screw threads: general plan.",
    "iso-286-1": "ISO 286-1:2010, ISO code system for tolerances on linear sizes.",
    "iso-286-2": "ISO 286-2:2010, Tables of standard tolerance classes and limit deviations for holes and shafts.",
    "iso-3506-1": (
        "ISO 3506-1:2009, Mechanical properties of corrosion-resistant stainless steel fasteners: bolts, "
        "screws and studs."
    ),
    "iso-6789": "ISO 6789:2003, Assembly tools for screws and nuts: hand torque tools.",
    "iso-68-1": "ISO 68-1:1998, ISO general purpose screw threads: basic profile.",
    "iso-724": "ISO 724:1993, ISO general-purpose metric screw threads: basic dimensions.",
    "iso-898-1": (
        "ISO 898-1:2013, Mechanical properties of fasteners: bolts, screws and studs of carbon and alloy steel."
    ),
    "iso-965-1": "ISO 965-1:1998, ISO general purpose metric screw threads: tolerances.",
    "khurmi-gupta": "R. S. Khurmi and J. K. Gupta, Theory of Machines.",
    "machine-elements": "A textbook of machine elements, as told in the open companion files of FOSSEE, book 764.",
    "machinerys-handbook": "Machinery's Handbook, section on torque and tension in fasteners.",
    "memory": "From memory; look it up before you rely on it.",
    "nasa-std-5020b": "NASA-STD-5020B, Requirements for threaded fastening systems in spaceflight hardware.",
    "ocvirk": "F. W. Ocvirk, Short-bearing approximation for full journal bearings, NACA TN 2808, 1952.",
    "practice": "Common practice, no source.",
    "raimondi-boyd": "A. A. Raimondi, J. Boyd, A solution for the finite journal bearing, ASLE Trans. 1, 1958.",
    "rm1046e": "Repair manual of a vehicle maker, publication RM1046E, valve clearance adjustment.",
    "sae-j300": "SAE J300, Engine oil viscosity classification, edition of January 2015.",
    "sae-j429": "SAE J429, Mechanical and material requirements for externally threaded fasteners.",
    "sarkar": "Sarkar, Theory of Machines.",
    "shigley": "J. E. Shigley and others, Mechanical engineering design, chapters 3 and 12.",
    "shigley-9": "R. G. Budynas, J. K. Nisbett: Shigley's Mechanical Engineering Design, 9th ed., McGraw-Hill, 2011.",
    "someya": "T. Someya, Journal-bearing databook, Springer 1989.",
    "studentized-range": "Harter, Tables of range and studentized range, Annals of Mathematical Statistics 31 (1960).",
    "tm-1-1500-204-23-9": (
        "US Army TM 1-1500-204-23-9, General aircraft maintenance: tools and ground support equipment."
    ),
    "tm-5-4320": "US Army TM 5-4320-300-14.",
    "tr-fastenings": "TR Fastenings, Guide lines for tightening factors and tolerances, after VDI 2230:1986.",
    "tribology-abc": "Tribology-abc.com, calculators of bolted joints (e3_6a, e3_6b).",
    "vdi-2230": "VDI 2230 part 1:2003, Systematic calculation of high duty bolted joints.",
}
