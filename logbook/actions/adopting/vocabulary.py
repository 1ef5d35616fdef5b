"""Words that people put into their own tables, in several languages: common practice, no source, from memory.

Each block says, line by line, what the words after the colon mean. They stand as ``words`` leaves them: without capitals,
accents and signs.
"""

import unicodedata
from functools import lru_cache

from logbook.records.settings import SETTINGS


@lru_cache(maxsize=65_536)  # cells recur
def words(text: str) -> str:
    """A text as it is compared: without capitals, accents and signs.

    >>> words("Zu  dunkel!"), words("Papier (Größe)")
    ('zu dunkel', 'papier grosse')
    """
    if not text.isascii():
        text = "".join(one for one in unicodedata.normalize("NFKD", text) if not unicodedata.combining(one))
    return " ".join("".join(one if one.isalnum() or one in "✓✔✗✘" else " " for one in text.casefold()).split())


def _meanings(block: str) -> dict[str, str]:
    pairs = (line.partition(":") for line in block.strip().splitlines())
    return {word.strip(): meant for meant, _, said in pairs for word in said.split(",")}


HEADINGS = _meanings("""
at: date, day, printed, printed on, print date, date printed, when, datum, druckdatum, gedruckt, gedruckt am, tag
at: date d impression, imprime le, jour, fecha, fecha de impresion, dia, data, data di stampa, stampato, afdrukdatum, dag
time: time, hour, uhrzeit, zeit, heure, hora, ora, tijd
id: id
number: number, no, nr, num, print no, print number, running number, nummer, lfd nr, numero, n, nummer afdruk
title: title, picture, image, photo, photograph, name, work, subject, motif, bild, titel, motiv, bildtitel, foto, titre
title: photo titre
title: titulo, imagen, obra, titolo, immagine, fotografia, afbeelding, image title, picture title
file: file, filename, file name, datei, dateiname, fichier, archivo, nome file, bestand
paper: paper, paper type, media, stock, papier, papierart, papiersorte, papel, carta, tipo di carta, papiersoort
black: ink, black, black ink, ink black, schwarz, noir, negro, nero, zwart, mk pk, pk mk
printer: printer, machine, drucker, imprimante, impresora, stampante
size: size, image size, print size, format, dimensions, grosse, bildgrosse, bildformat, taille, dimension, tamano, medida
size: formato, dimensioni, misura, afmeting, maat, formaat
width_mm: width, w, image width, breite, largeur, ancho, anchura, larghezza, breedte
height_mm: height, h, image height, hohe, hauteur, alto, altura, altezza, hoogte
border_mm: border, margin, borders, rand, marge, borde, margen, bordo, margine
purpose: purpose, kind, zweck, but
copies: copies, qty, quantity, pieces, anzahl, menge, stuck, exemplaires, quantite, copias, cantidad, copie, quantita, aantal
attempt: attempt, try, version, versuch, essai, intento, tentativo, poging
attempt_of: attempt of, after, versuch nach
edition: edition, ed, edition no, auflage, tirage, edicion, edizione, oplage
edition_size: edition size, of, auflage gesamt
ink_ml: ink used, ink ml, tinte ml, tintenverbrauch, encre ml
note: note, notes, remark, remarks, comment, comments, notiz, notizen, bemerkung, bemerkungen, anmerkung, remarque, remarques
note: nota, notas, observaciones, commenti, osservazioni, opmerking, opmerkingen
screen: screen, display, monitor, bildschirm, ecran, pantalla, schermo, scherm
client: client, customer, buyer, sold to, for, kunde, kaufer, acheteur, cliente, klant, koper
price: price, sold for, amount, preis, prix, precio, prezzo, prijs
result: result, outcome, judgement, judgment, assessment, how it came out, verdict comments, ergebnis, beurteilung, resultat
result: urteil
result: resultado, risultato, giudizio, resultaat, jugement, status
darkness: darkness, density, tone, dark, too dark, darker by, helligkeit, dunkel, densite, luminosita, oscuridad
verdict: verdict, kept, keep, behalten, garde, ok, decision
shadows: shadows, schatten, ombres, sombras, ombre, schaduwen
cast: cast, colour cast, color cast, farbstich, dominante, dominante de couleur
flaws: flaws, defects, faults, fehler, mangel, defauts, defectos, difetti, gebreken
light: light, viewing light, judged under, lighting, licht, betrachtungslicht, lumiere, eclairage, luz, luce
hours_dry: hours dry, dried, drying hours, trockenzeit, heures de sechage
judged_at: judged, judged on, judged at, beurteilt am, juge le
judged_note: judgement note, note of the judgement
profile: profile, icc, icc profile, paper profile, profil, icc profil, perfil, perfil icc, profilo, profilo icc, profiel
intent: intent, rendering intent, rendering, wiedergabeabsicht, intention, mode de rendu, rendu, intencion, intento di rendering
black_point_compensation: bpc, black point, black point compensation, tiefenkompensierung, compensation du point noir
resolution_dpi: resolution, dpi, print resolution, output resolution, auflosung, resolucion, risoluzione, resolutie
bidirectional: bidirectional, both directions, high speed, bidirektional, bidirectionnel, bidireccional
media: media setting, media type, medieneinstellung, type de support, tipo de soporte
shadow_lift: shadow lift, lift, schattenaufhellung
brighten_stops: brightened, brightened by, brightening, file brightened, aufgehellt
image_ppi: ppi, file ppi, image ppi, file resolution
sharpening: sharpening, sharpen, scharfung, nettete, enfoque, nitidezza
scale_percent: scale, scaling, skalierung, echelle, escala, scala
colour_managed_by: colours by, colours managed by, color management, colour management, farbmanagement
""")

HEADINGS |= {name.replace("_", " "): name for name in SETTINGS} | {"edition number": "edition_number", "job": "job"}

INKS = _meanings("""
matte_black: matte black, mk, mattschwarz, noir mat
photo_black: photo black, pk, fotoschwarz, noir photo
cyan: cyan, c
magenta: magenta, m
yellow: yellow, y, gelb, jaune, amarillo, giallo, geel
light_cyan: light cyan, lc
light_magenta: light magenta, lm
grey: grey, gray, grau, gris, grigio, grijs
light_grey: light grey, light gray, hellgrau, gris clair
orange: orange
green: green, grun, vert
blue: blue, blau, bleu
violet: violet
red: red, rot
""")

MONTHS = _meanings("""
1: jan, ene, gen
2: feb, fev
3: mar, maa, mrt
4: apr, avr, abr
5: may, mai, mag, mei, maj
6: jun, juin, giu
7: jul, juil, lug
8: aug, aou, ago
9: sep, set
10: oct, okt, ott, out
11: nov
12: dec, dez, dic, des
""")

YES_OR_NO = _meanings("""
yes: yes, y, true, on, ja, oui, si, sim, x, 1, ✓, ✔, an, aan, vrai, wahr, used, with, mit, avec, active
no: no, n, false, off, nein, non, nao, nee, 0, aus, uit, faux, falsch, none, without, ohne, sans
""")

BLACKS = _meanings("""
matte: matte, matt, mk, mat, mate, opaco, rag, cotton, etching, watercolour, watercolor, velvet, textured, washi, baumwolle
matte: coton
photo: photo, pk, gloss, glossy, glanz, glanzend, brillant, brillante, lucido, lustre, luster, satin, semigloss, baryta, baryt
photo: pearl, silk, fibre, fiber, metallic, canvas gloss, foto
""")

INTENTS = _meanings("""
perceptual: perc, perz, perceptual
relative: rel, relative, relatif, relativ
absolute: abs, absolute
saturation: sat, saturation, sattigung
""")

OUTCOMES = _meanings("""
keep: keep, kept, keeper, ok, okay, good, fine, great, perfect, approved, sold, signed, yes, pass, passed, ✓, ✔, final, accepted
keep: gut, behalten, perfekt, verkauft, bon, bonne, garder, garde, parfait, bien, bueno, buena, guardar, buono, tenere, goed
keep: houden
redo: redo, again, reprint, retry, repeat, do again, print again, nochmal, noch mal, wiederholen, neu, refaire, a refaire
redo: reessayer
redo: repetir, rifare, ristampare, opnieuw
scrap: scrap, scrapped, bin, binned, trash, waste, wasted, bad, reject, rejected, fail, failed, thrown away, ✗, ✘
scrap: ausschuss, mull, weg, schlecht, poubelle, jeter, rate, ratee, mauvais, basura, tirar, malo, scarto, buttare, weggooien
scrap: slecht
open: shadows open
held: shadows held
blocked: blocked, shadows blocked, blocked shadows, blocked up
banding: banding, bands, streifen, bandes, bandas
scratch: scratch, scratched, scratches, kratzer, rayure, arana
dust: dust, dust spot, staub, poussiere, polvo
blotch: blotch, blotches, fleck, flecken, tache
on screen: as on screen, matches screen, matches, like screen, spot on, wie am bildschirm, passt, comme a l ecran
""")

DARKER_OR_LIGHTER = _meanings("""
darker: dark, darker, dunkel, dunkler, sombre, fonce, foncee, oscuro, oscura, scuro, scura, donker, donkerder
lighter: light, lighter, bright, brighter, hell, heller, clair, claire, claro, clara, chiaro, chiara, licht, lichter, pale
""")

AMOUNTS = _meanings("""
0.25: quarter, viertel, quart
0.5: half, halbe, halb, demi, demie, medio, mezzo, halve
1: one, a, ein, eine, einen, un, une, uno, een
2: two, zwei, deux, dos, due, twee
thirds: third, thirds, drittel, tiers, tercio, tercios, terzo, terzi, derde
stops: stop, stops, blende, blenden, ev, il, diaphragme, diaf
""")

TOTALS = _meanings("""
total: total, totals, sum, summe, gesamt, insgesamt, somme, totale, totaal, subtotal, average, mean, mittelwert, moyenne, media
""")
DITTO = {'"', "″", "''", "〃", "do", "do.", "dito", "ditto", "idem", "id.", '-"-'}
