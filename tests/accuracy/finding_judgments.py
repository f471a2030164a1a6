"""Nearness judgments: for a set on the bench, this line-up before that one, because.

Every reason is common practice of the trade, no source.
"""

AA5 = "12BE6 12BA6 12AV6 50C5 35W4"
OCTAL5 = "12SA7 12SK7 12SQ7 50L6 35Z5"
AC5 = "6SA7 6SK7 6SQ7 6V6 5Y3"
AC5G = "6A8 6K7 6Q7 6F6 5Y3"
MINI_AC = "6BE6 6BA6 6AV6 6AQ5 6X4"
FARM4 = "1R5 1T4 1S5 3S4"
LOCTAL = "7Q7 7A7 7C6 7C5 7Y4"
OLD = "2A7 58 2A6 2A5 80"
EURO = "UCH42 UF41 UBC41 UL41 UY41"
TRF = "24 24 27 45 80"
BIG = "6SK7 6SA7 6SK7 6SQ7 6J5 6V6 6V6 5U4 6U5"

# (asked, nearer, farther, because)
JUDGMENTS = (
    (AA5, AA5, "12BE6 12BA6 12AT6 50C5 35W4", "the same tubes before one exchanged"),
    (AA5, "12BE6 12BA6 12AT6 50C5 35W4", "12BE6 12BA6 12AV6 50B5 35W4",
     "12AT6 goes in 12AV6's socket; 50B5 has other pins"),
    (AA5, "12BE6 12BA6 12AV6 50B5 35W4", OCTAL5, "one other socket before five"),
    (AA5, "12BE6 12BA6 12AV6 50C5", OCTAL5, "the same set with a selenium rectifier"),
    (AA5, "12BE6 12BA6 12BA6 12AV6 50C5 35W4", OCTAL5, "one stage more before all sockets other"),
    (AA5, OCTAL5, AC5, "the same jobs in a series string before a transformer set"),
    (AA5, OCTAL5, FARM4, "a line set before a battery set"),
    (AA5, MINI_AC, TRF, "a superhet with the same sockets before a straight set"),
    (AA5, MINI_AC, FARM4, "pins agree for most before a battery set"),
    (AA5, MINI_AC, AC5, "the miniature sockets of the 6-volt set before octal ones"),
    (AA5, "12BE6 12BA6 12AV6 35C5 35W4", "12BE6 12BA6 12AV6 50L6 35Z5",
     "35C5 is on 50C5's pins; octal output and rectifier are not"),
    (OCTAL5, "12SA7 12SK7 12SQ7 35L6 35Z5", AA5, "one other heater before five other sockets"),
    (OCTAL5, "12SA7 12SK7 12SK7 12SQ7 50L6 35Z5", AA5, "a stage more before five other sockets"),
    (OCTAL5, "12SA7 12SK7 12SQ7 50L6 35Z5", "12A8 12K7 12Q7 50L6 35Z5",
     "the same tubes before other sockets with top caps"),
    (OCTAL5, "12A8 12K7 12Q7 50L6 35Z5", AC5G, "output and rectifier are the same in one string"),
    (OCTAL5, "6SA7 6SK7 6SQ7 25L6 25Z6", MINI_AC, "the same pins at 6.3 V before other sockets"),
    (OCTAL5, AC5, FARM4, "the same pins in the tuned stages before battery tubes"),
    (OCTAL5, AC5, TRF, "a superhet before a straight set"),
    (AC5, "6SA7 6SK7 6SQ7 6V6 5Y3", "6SA7 6SK7 6SQ7 6F6 5Y3", "the same before one exchanged"),
    (AC5, "6SA7 6SK7 6SQ7 6K6 5Y3", AC5G, "one output tube other before four"),
    (AC5, "6SA7 6SK7 6SQ7 6V6 5Y3 6U5", AC5G, "a tuning eye added hardly shapes the circuit"),
    (AC5, "6SA7 6SK7 6SQ7 6V6 5Y3 6U5", "6SA7 6SK7 6SQ7 6V6 6V6 5Y3",
     "an eye more changes less than push-pull output"),
    (AC5, "6SA7 6SK7 6SK7 6SQ7 6V6 5Y3", BIG, "one stage more before four"),
    (AC5, AC5G, AA5, "a transformer set with octal sockets before a string of miniatures"),
    (AC5, AC5G, TRF, "a superhet before a straight set"),
    (AC5, "6SA7 6SK7 6SQ7 6V6 80", AC5G, "80 does 5Y3's job in another socket; the rest is same"),
    (AC5, MINI_AC, FARM4, "the same jobs from the line before battery tubes"),
    (AC5G, "6A8 6K7 6Q7 6V6 5Y3", AC5, "one exchanged before three in other sockets"),
    (AC5G, "6K8 6K7 6Q7 6F6 5Y3", OLD, "one tube other before all other"),
    (AC5G, AC5, AA5, "a transformer set with octal sockets before a string"),
    (MINI_AC, "6BE6 6BA6 6AT6 6AQ5 6X4", "6BE6 6BA6 6AV6 6V6 6X4",
     "6AT6 goes in 6AV6's socket; 6V6 is octal"),
    (MINI_AC, "6BE6 6BA6 6AV6 6V6 6X4", AC5, "one other socket before five"),
    (MINI_AC, "6BE6 6BA6 6BA6 6AV6 6AQ5 6X4", AC5, "one stage more before five other sockets"),
    (MINI_AC, AA5, FARM4, "the same pins in the tuned stages before battery tubes"),
    (FARM4, "1R5 1U4 1U5 3S4", AA5, "a battery set before a line set"),
    (FARM4, "1R5 1T4 1S5 3V4", "1A7 1N5 1H5 1A5", "one other output pin-out before four octals"),
    (FARM4, "1R5 1T4 1T4 1S5 3S4", "1A7 1N5 1H5 1A5", "a stage more before all sockets other"),
    (FARM4, "1A7 1N5 1H5 1A5", AC5, "battery tubes before heater types from a transformer"),
    (LOCTAL, "7Q7 7A7 7C6 7B5 7Y4", AC5, "one output tube other before five sockets"),
    (LOCTAL, "7Q7 7B7 7C6 7C5 7Y4", MINI_AC, "one loctal for another before miniatures"),
    (LOCTAL, AC5, TRF, "a superhet before a straight set"),
    (OLD, "2A7 58 58 2A6 2A5 80", "6A7 6D6 75 42 80", "a stage more before other heaters in four"),
    (OLD, "6A7 6D6 75 42 80", AA5, "the same sockets at 6.3 V before a miniature string"),
    (EURO, "UCH42 UF41 UBC41 UL41 UY41", "ECH42 EF41 EBC41 EL41 AZ41", "the same before E types"),
    (EURO, "ECH42 EF41 EBC41 EL41 AZ41", AA5, "E types share the U types' sockets"),
    (TRF, "24 24 27 47 80", AC5, "one output tube other before another kind of set"),
    (BIG, "6SK7 6SA7 6SK7 6SQ7 6J5 6V6 6V6 5U4", AC5, "without its eye before without four stages"),
    (BIG, "6SK7 6SA7 6SK7 6SQ7 6SN7 6V6 6V6 5U4 6U5", AC5, "one triode other before four missing"),
)  # fmt: skip
