"""Rows of published indexing tables and worked examples, as figures.

Each group names its source. `FROM_MEMORY` groups were recalled, not re-read;
every figure in them also follows from first principles, turns + holes/circle =
ratio/N, which `make_plan_vectors.py` checks before it uses a row.
"""

MANUAL = 'US Army Ordnance subcourse OD1644 "Milling Machine Operations", Lesson 1, Task 1'
EXERCISES = '"Dividing head practice" exercise sheet (N, ratio and circles read; answers computed)'
HANDBOOK_THREE = ('Machinery\'s Handbook, "Simple and Differential Indexing", three plates 15 to 49 '
                  '(from memory; edition and page not read again)')
HANDBOOK_TWO_SIDED = ('Machinery\'s Handbook, simple indexing table for the two-sided plate 24 to 66 '
                      '(from memory; not read again)')
HANDBOOK_1916 = 'Machinery\'s Handbook, 1916 ed., "Indexing for angles"'
HANDBOOK_27 = ('Machinery\'s Handbook, 27th ed., "Milling Machine Indexing", p. 1995, accurate angular '
               'indexing, parts of a turn')
TREATISE = '"Practical Treatise on Milling and Milling Machines" (1914, public domain)'
COURSE = 'Technical-college course text "Advanced Milling Operations - Angular Indexing"'

# N, whole turns, holes, circle (None: any), 40:1, three plates; from memory.
SIMPLE_THREE_PLATES = [
    (3, 13, 13, 39),
    (6, 6, 26, 39),
    (7, 5, 35, 49),
    (12, 3, 13, 39),
    (17, 2, 6, 17),
    (18, 2, 6, 27),
    (19, 2, 2, 19),
    (21, 1, 19, 21),
    (22, 1, 27, 33),
    (23, 1, 17, 23),
    (24, 1, 26, 39),
    (25, 1, 12, 20),
    (26, 1, 21, 39),
    (28, 1, 21, 49),
    (29, 1, 11, 29),
    (30, 1, 13, 39),
    (32, 1, 5, 20),
    (35, 1, 7, 49),
    (36, 1, 3, 27),
    (38, 1, 1, 19),
    (39, 1, 1, 39),
    (43, 0, 40, 43),
    (44, 0, 30, 33),
    (45, 0, 24, 27),
    (46, 0, 20, 23),
    (47, 0, 40, 47),
    (48, 0, 15, 18),
    (50, 0, 16, 20),
    (52, 0, 30, 39),
    (55, 0, 24, 33),
    (58, 0, 20, 29),
    (62, 0, 20, 31),
    (65, 0, 24, 39),
    (66, 0, 20, 33),
    (68, 0, 10, 17),
    (70, 0, 28, 49),
    (72, 0, 15, 27),
    (75, 0, 8, 15),
    (82, 0, 20, 41),
    (84, 0, 10, 21),
    (85, 0, 8, 17),
    (86, 0, 20, 43),
    (92, 0, 10, 23),
    (95, 0, 8, 19),
    (98, 0, 20, 49),
    (100, 0, 8, 20),
    (104, 0, 15, 39),
    (108, 0, 10, 27),
    (110, 0, 12, 33),
    (115, 0, 8, 23),
    (116, 0, 10, 29),
    (120, 0, 13, 39),
    (124, 0, 10, 31),
    (128, 0, 5, 16),
    (130, 0, 12, 39),
    (132, 0, 10, 33),
    (136, 0, 5, 17),
    (148, 0, 10, 37),
    (2, 20, 0, None),
    (5, 8, 0, None),
    (8, 5, 0, None),
    (40, 1, 0, None),
]

# N, whole turns, holes, circle, 40:1, two-sided plate; from memory (the list of
# circles itself is read, OD1644 fig. 11).
SIMPLE_TWO_SIDED = [
    (6, 6, 16, 24),
    (9, 4, 24, 54),
    (11, 3, 42, 66),
    (14, 2, 24, 28),
    (15, 2, 16, 24),
    (16, 2, 12, 24),
    (17, 2, 12, 34),
    (22, 1, 54, 66),
    (24, 1, 16, 24),
    (26, 1, 21, 39),
    (27, 1, 26, 54),
    (28, 1, 12, 28),
    (29, 1, 22, 58),
    (30, 1, 8, 24),
    (31, 1, 18, 62),
    (33, 1, 14, 66),
    (35, 1, 4, 28),
    (36, 1, 6, 54),
    (37, 1, 3, 37),
    (38, 1, 2, 38),
    (39, 1, 1, 39),
    (42, 0, 40, 42),
    (43, 0, 40, 43),
    (45, 0, 48, 54),
    (46, 0, 40, 46),
    (47, 0, 40, 47),
    (49, 0, 40, 49),
    (50, 0, 20, 25),
    (51, 0, 40, 51),
    (52, 0, 30, 39),
    (53, 0, 40, 53),
    (54, 0, 40, 54),
    (56, 0, 30, 42),
    (59, 0, 40, 59),
    (60, 0, 28, 42),
    (64, 0, 15, 24),
    (65, 0, 24, 39),
    (66, 0, 40, 66),
    (68, 0, 20, 34),
    (70, 0, 24, 42),
    (76, 0, 20, 38),
    (78, 0, 20, 39),
    (84, 0, 20, 42),
    (86, 0, 20, 43),
    (92, 0, 20, 46),
    (94, 0, 20, 47),
    (102, 0, 20, 51),
    (106, 0, 20, 53),
    (114, 0, 20, 57),
    (116, 0, 20, 58),
]

# source id, N, whole turns, holes, circle, 40:1; read.
SIMPLE_READ = [
    ("OD1644-6a", 6, 6, 12, 18),
    ("OD1644-6b", 6, 6, 26, 39),
    ("OD1644-42a", 42, 0, 40, 42),
    ("sheet-15a", 15, 2, 18, 27),
]

# ratio, N, circles of the plate, whole turns, every (holes, circle) that is exact.
EXERCISE_SHEET = [
    (40, 26, (44, 45, 47, 49, 52), 1, ((28, 52),)),
    (40, 112, (12, 14, 16, 18, 20), 0, ((5, 14),)),
    (40, 60, (15, 18, 20, 23, 24), 0, ((10, 15), (12, 18), (16, 24))),
    (40, 100, (18, 20, 22, 25, 27), 0, ((8, 20), (10, 25))),
    (60, 14, (21, 23, 25, 26, 28), 4, ((6, 21), (8, 28))),
    (60, 18, (33, 35, 36, 38, 40), 3, ((11, 33), (12, 36))),
    (72, 78, (21, 23, 25, 26, 27), 0, ((24, 26),)),
    (72, 125, (24, 25, 27, 28, 30), None, ()),
    (72, 69, (21, 23, 25, 27, 29), 1, ((1, 23),)),
    (90, 12, (22, 24, 26, 28, 30), 7, ((11, 22), (12, 24), (13, 26), (14, 28), (15, 30))),
    (90, 27, (20, 21, 23, 25, 27), 3, ((7, 21), (9, 27))),
    (90, 50, (30, 33, 36, 38, 40), 1, ((24, 30), (32, 40))),
    (90, 40, (16, 18, 19, 21, 24), 2, ((4, 16), (6, 24))),
]

# id, angle in degrees, whole turns, holes, circle (None: any), error in seconds of arc; 40:1.
ANGULAR = [
    ("ang-15", "15", 1, 36, 54, 0.0),
    ("ang-13.5", "27/2", 1, 9, 18, 0.0),
    ("ang-24min-approx", "2/5", 0, 1, 23, -31.3043),
    ("ang-11.5", "23/2", 1, 5, 18, 0.0),
    ("ang-48-40", "146/3", 5, 11, 27, 0.0),
    ("ang-2/3-27", "2/3", 0, 2, 27, 0.0),
    ("ang-1/3-27", "1/3", 0, 1, 27, 0.0),
    ("ang-1deg-27", "1", 0, 3, 27, 0.0),
    ("ang-45", "45", 5, 0, None, 0.0),
    ("ang-19", "19", 2, 6, 54, 0.0),
    ("ang-8-50", "53/6", 0, 53, 54, 0.0),
    ("ang-sheet-15", "15", 1, 18, 27, 0.0),
]

# Part of a crank turn as tabulated (to half a unit of the last place), holes, circle,
# plate set. Rows on two circles belong to compound indexing and are not here.
PARTS_OF_A_TURN = [
    ("0.1915", 9, 47, "3plate"),
    ("0.1915", 9, 47, "2sided"),
    ("0.2222", 6, 27, "3plate"),
    ("0.2222", 12, 54, "2sided"),
    ("0.1930", 11, 57, "2sided"),
    ("0.2241", 13, 58, "2sided"),
    ("0.1935", 12, 62, "2sided"),
    ("0.2245", 11, 49, "3plate"),
    ("0.2245", 11, 49, "2sided"),
    ("0.2258", 14, 62, "2sided"),
    ("0.1951", 8, 41, "3plate"),
    ("0.1951", 8, 41, "2sided"),
    ("0.1957", 9, 46, "2sided"),
    ("0.2264", 12, 53, "2sided"),
    ("0.2273", 15, 66, "2sided"),
    ("0.1970", 13, 66, "2sided"),
    ("0.2281", 13, 57, "2sided"),
    ("0.2000", 3, 15, "3plate"),
    ("0.2000", 5, 25, "2sided"),
    ("0.2308", 9, 39, "2sided"),
    ("0.2000", 4, 20, "3plate"),
    ("0.2000", 6, 30, "2sided"),
    ("0.2326", 10, 43, "2sided"),
    ("0.2333", 7, 30, "2sided"),
    ("0.2037", 11, 54, "2sided"),
    ("0.2340", 11, 47, "3plate"),
    ("0.2340", 11, 47, "2sided"),
    ("0.2041", 10, 49, "3plate"),
    ("0.2041", 10, 49, "2sided"),
    ("0.2353", 4, 17, "3plate"),
    ("0.2353", 8, 34, "2sided"),
    ("0.2051", 8, 39, "3plate"),
    ("0.2069", 6, 29, "3plate"),
    ("0.2069", 12, 58, "2sided"),
    ("0.2373", 14, 59, "2sided"),
    ("0.2075", 11, 53, "2sided"),
]

