# SPDX-License-Identifier: Apache-2.0
"""How colours are told apart: contrast on a ground, and distance as eyes with all cones, or without one kind of them, see it.

Sources: contrast by WCAG 2.2, 1.4.3; sRGB by IEC 61966-2-1; CIELAB under D65; CIEDE2000 by Sharma, Wu and Dalal 2005;
Machado, Oliveira and Fernandes 2009, severity 1; Vienot, Brettel and Mollon 1999 and Brettel, Vienot and Mollon 1997 for
the primaries of sRGB (matrices from memory). Lightness in grey: L* of the relative luminance."""
import itertools
import math

ROLES = "ink stays new adapted measure clash off".split()
GROUNDS = ["light", "dark", "print"]

MACHADO = {
    "protanopia": [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    "deuteranopia": [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    "tritanopia": [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]}
VIENOT = {
    "protanopia": [[0.11238, 0.88762, 0.0], [0.11238, 0.88762, 0.0], [0.00401, -0.00401, 1.0]],
    "deuteranopia": [[0.29275, 0.70725, 0.0], [0.29275, 0.70725, 0.0], [-0.02234, 0.02234, 1.0]]}
BRETTEL = ([[1.01277, 0.13548, -0.14826], [-0.01243, 0.86812, 0.14431], [0.07589, 0.80500, 0.11911]],
           [[0.93678, 0.18979, -0.12657], [0.06154, 0.81526, 0.12320], [-0.37562, 1.12767, 0.24796]],
           [0.03901, -0.02788, -0.01113])


def times(matrix, vector):
    return [sum(a * b for a, b in zip(row, vector)) for row in matrix]


def brettel(rgb):
    first, second, normal = BRETTEL
    return times(first if sum(a * b for a, b in zip(normal, rgb)) >= 0 else second, rgb)


EYES = {"all cones": lambda rgb: rgb, "tritanopia, Brettel": brettel}
EYES.update({f"{name}, Machado": lambda rgb, m=matrix: times(m, rgb) for name, matrix in MACHADO.items()})
EYES.update({f"{name}, Vienot": lambda rgb, m=matrix: times(m, rgb) for name, matrix in VIENOT.items()})


def linear(colour):
    parts = [int(colour[i:i + 2], 16) / 255 for i in (0, 2, 4)]
    return [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]


def luminance(colour):
    return sum(w * c for w, c in zip((0.2126, 0.7152, 0.0722), linear(colour)))


def contrast(one, other):
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def lab(rgb):
    rgb = [min(max(c, 0.0), 1.0) for c in rgb]
    xyz = times([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]], rgb)
    f = [t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29
         for t in (c / white for c, white in zip(xyz, (0.95047, 1.0, 1.08883)))]
    return 116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])


def ciede2000(one, other):
    (l1, a1, b1), (l2, a2, b2) = one, other
    mean = (math.hypot(a1, b1) + math.hypot(a2, b2)) / 2
    g = 0.5 * (1 - math.sqrt(mean ** 7 / (mean ** 7 + 25 ** 7)))
    a1, a2 = a1 * (1 + g), a2 * (1 + g)
    c1, c2 = math.hypot(a1, b1), math.hypot(a2, b2)
    h1, h2 = (math.degrees(math.atan2(b, a)) % 360 if c else 0.0 for a, b, c in ((a1, b1, c1), (a2, b2, c2)))
    turn = 0.0 if c1 * c2 == 0 else (h2 - h1 + 180) % 360 - 180 if abs(h2 - h1) != 180 else h2 - h1
    dl, dc, dh = l2 - l1, c2 - c1, 2 * math.sqrt(c1 * c2) * math.sin(math.radians(turn / 2))
    lm, cm = (l1 + l2) / 2, (c1 + c2) / 2
    hm = h1 + h2 if c1 * c2 == 0 else (h1 + h2) / 2 if abs(h1 - h2) <= 180 else \
        (h1 + h2 + 360) / 2 if h1 + h2 < 360 else (h1 + h2 - 360) / 2
    t = 1 - 0.17 * math.cos(math.radians(hm - 30)) + 0.24 * math.cos(math.radians(2 * hm)) + \
        0.32 * math.cos(math.radians(3 * hm + 6)) - 0.20 * math.cos(math.radians(4 * hm - 63))
    sl = 1 + 0.015 * (lm - 50) ** 2 / math.sqrt(20 + (lm - 50) ** 2)
    sc, sh = 1 + 0.045 * cm, 1 + 0.015 * cm * t
    rt = -2 * math.sqrt(cm ** 7 / (cm ** 7 + 25 ** 7)) * math.sin(math.radians(60 * math.exp(-((hm - 275) / 25) ** 2)))
    return math.sqrt((dl / sl) ** 2 + (dc / sc) ** 2 + (dh / sh) ** 2 + rt * (dc / sc) * (dh / sh))


def nearest(palette, ground, see):
    return min((ciede2000(lab(see(linear(palette[a][ground]))), lab(see(linear(palette[b][ground])))), a, b)
               for a, b in itertools.combinations(ROLES, 2))


def lightness(colour):
    """L* of the grey that a colour becomes in print without colour."""
    return lab(3 * [luminance(colour)])[0]
