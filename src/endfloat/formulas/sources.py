"""What the formulas rest on, by the key that stands in their References."""

SOURCES = {
    "bevan": "T. Bevan, The Theory of Machines.",
    "cam-laws": "Standard laws of cam motion, as in R. L. Norton, Design of Machinery; from memory, peaks derived.",
    "definition": "Definition.",
    "derived": "Derived here from geometry or mechanics.",
    "en-13906-1": "EN 13906-1, Cylindrical helical springs of round wire: compression springs; from memory.",
    "iso-12781-1": "ISO 12781-1:2011, Flatness: vocabulary and parameters.",
    "iso-14405-1": "ISO 14405-1:2016, Dimensional tolerancing: linear sizes.",
    "iso-286-1": "ISO 286-1:2010, ISO code system for tolerances on linear sizes.",
    "memory": "From memory; look it up before you rely on it.",
    "practice": "Common practice, no source.",
    "shigley": "J. E. Shigley, Mechanical Engineering Design, chapter on mechanical springs; equations from memory.",
    "toyota-rm1046e": "Toyota repair manual RM1046E, valve clearance adjustment.",
}
