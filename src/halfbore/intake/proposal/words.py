"""What suppliers call the fields of a unit: headings in English, German, French and Spanish, symbols, letters.

Our own list; the words are those of the trade and of the standards' tables.
"""

from __future__ import annotations

from halfbore.domain.unit import COLUMNS, SealKind
from halfbore.intake.survey.fold import folded

_WORDS = {
    "code": """code; order code; unit code; part number; part no; item; item no; article; designation; catalogue number
        bestellnummer; bestellcode; artikelnummer; artikel; bezeichnung; typ
        référence; désignation; code article; numéro de commande
        clave; código; código de pedido; referencia; designación""",
    "size": "size; nominal size; nenngröße; größe; taille; dimension nominale; tamaño; tamaño nominal",
    "bore": """bore; bore diameter; shaft; shaft diameter; shaft size; seat; seat diameter; inner diameter
        bohrung; bohrungsdurchmesser; welle; wellendurchmesser; innendurchmesser; sitz
        alésage; arbre; diamètre d'arbre; diamètre intérieur; diamètre d'alésage
        eje; diámetro del eje; diámetro interior; agujero""",
    "row_size": """row; row size; roller row; series; duty; reihe; rollenreihe; baureihe; rangée; série
        fila; serie""",
    "locating": """locating; axial; fixed or free; fixed free; fix; held or free; fest los; los fest; festlager; lagerung
        axialführung; ausführung
        fixe libre; palier fixe; fijación; fijo libre""",
    "support": """support; mounting; pedestal; housing type; feet; kind of support; bauform; gehäuseform; lagerbock; stütze
        type de palier; type de support; soporte; montaje""",
    "hand": "hand; entry side; entry; seite; einbauseite; eintrittsseite; côté; côté d'entrée; lado; lado de entrada; mano",
    "rollers": """rollers; number of rollers; rollers per row; rollen; rollenzahl; anzahl rollen; wälzkörperzahl
        nombre de rouleaux; rouleaux; rodillos; número de rodillos; rodillos z""",
    "rows": "rows; number of rows; reihenzahl; anzahl reihen; nombre de rangées; número de filas; filas",
    "roller_diameter": """roller diameter; roller dia; rollers dia; rollendurchmesser; rollen dia
        diamètre de rouleau; diamètre des rouleaux
        diámetro de rodillo; diámetro de los rodillos; rodillos diámetro""",
    "roller_length": """roller length; effective roller length; roller length eff; rollenlänge; wirksame rollenlänge
        longueur de rouleau; longueur des rouleaux; longitud de rodillo; rodillos longitud""",
    "pitch_diameter": """pitch diameter; pitch dia; pitch circle; pitch circle diameter; teilkreis; teilkreisdurchmesser
        diamètre primitif; diámetro primitivo; círculo primitivo; rodillos círculo""",
    "dynamic_rating": """dynamic load rating; dynamic rating; basic dynamic load rating; dynamic; dynamische tragzahl
        tragzahl dynamisch; charge dynamique; capacité dynamique; charge dynamique de base
        carga dinámica; capacidad dinámica; capacidad de carga dinámica""",
    "static_rating": """static load rating; static rating; basic static load rating; static; statische tragzahl
        tragzahl statisch; charge statique; capacité statique; charge statique de base
        carga estática; capacidad estática; capacidad de carga estática""",
    "fatigue_limit": """fatigue load limit; fatigue limit; ermüdungsgrenzbelastung; limite de fatigue
        charge limite de fatigue; límite de fatiga; carga límite de fatiga""",
    "axial_capacity": """axial load; axial capacity; permissible axial load; axiallast; zulässige axiallast; axialbelastung
        charge axiale; charge axiale admissible; carga axial; carga axial admisible""",
    "flange_height": "flange height; flange contact height; bordhöhe; hauteur d'épaulement; pestaña altura; altura de pestaña",
    "flange_pv_limit": "pv; pv limit; p v; p v limit; flange pv; pestaña p v mpa m s; pestaña pv",
    "flange_strength": "flange strength; bordfestigkeit; résistance de l'épaulement; carga pestaña; resistencia de pestaña",
    "clamp_grip": "clamp grip; clamping grip; klemmkraft; haftkraft; force de serrage; carga agarre; agarre",
    "housing_axial": """axial housing; housing axial; housing axial load; gehäuse axial; charge axiale du palier
        límite soporte axial; carga axial de la caja""",
    "speed_limit": """speed; speed limit; limiting speed; maximum speed; max speed; speed grease; drehzahl; grenzdrehzahl
        drehzahlgrenze; höchstdrehzahl; vitesse; vitesse limite; vitesse maximale
        velocidad; velocidad límite; velocidad máxima; límite""",
    "ring_temperature_limit": """temperature; temperature limit; max temperature; temperatur; grenztemperatur
        température; température limite; temperatura; temperatura máxima""",
    "inner_raceway": """raceway dia; raceway diameter; inner raceway; laufbahndurchmesser; innenlaufbahn
        diamètre de piste; piste intérieure; diámetro de pista; pista interior; rodillos pista""",
    "seat_lower": """seat lower; lower deviation; shaft lower; unteres abmaß; abmaß unten; écart inférieur
        asiento inferior; desviación inferior""",
    "seat_upper": """seat upper; upper deviation; shaft upper; oberes abmaß; abmaß oben; écart supérieur
        asiento superior; desviación superior""",
    "seat_form": "seat form; roundness; form; rundheit; formtoleranz; circularité; asiento forma; redondez",
    "joint_gap": "joint gap; gap at joint; fugenspalt; trennfuge; jeu de joint; junta luz; luz de junta",
    "joint_angle": "joint angle; fuge; fugenwinkel; fugenlage; angle de joint; ángulo de junta",
    "joint_clear": "joint clear; fugenabstand; dégagement du joint; junta libre",
    "joint_eased": "joint eased; fugenentlastung; junta rebajada",
    "limit_down": "down; load down; limit down; last unten; nach unten; charge vers le bas; límite soporte abajo; carga abajo",
    "limit_side": "side; load side; limit side; sideways; last seitlich; charge latérale; límite soporte lado; carga lateral",
    "limit_up": "up; load up; limit up; last oben; nach oben; charge vers le haut; límite soporte arriba; carga arriba",
    "track_travel": "track travel; axial travel; verschiebeweg; axialweg; déplacement axial; carrera pista; carrera axial",
    "seal_travel": "seal travel; dichtungsweg; déplacement du joint; carrera sello",
    "housing_travel": "housing travel; gehäuseweg; déplacement du palier; carrera caja",
    "static_alignment": """alignment; misalignment; setting range; winkeleinstellung; schiefstellung; einstellwinkel
        désalignement; alignement; desalineación; alineación""",
    "roller_tilt": "roller tilt; rollenneigung; rollenkippung; inclinación de rodillo",
    "length": """length; overall length; unit length; länge; baulänge; gesamtlänge; longueur; longueur totale
        longitud; longitud total; medidas longitud""",
    "width": "width; overall width; breite; gesamtbreite; largeur; ancho; anchura; medidas ancho",
    "height": "above centre; height above centre; höhe über mitte; hauteur au dessus de l'axe; medidas altura; altura",
    "centre_height": """centre height; center height; shaft centre height; centre; achshöhe; mittenhöhe; wellenhöhe
        hauteur d'axe; altura de centro; altura al centro; medidas centro""",
    "bolt_spacing": """bolt spacing; bolt centres; bolt distance; base bolts apart; lochabstand; schraubenabstand; entraxe
        entraxe des trous; distancia entre pernos; medidas pernos""",
    "bolt_slot": "slot; slot length; bolt slot; langloch; trou oblong; ranura; medidas ranura",
    "bolt_size": "bolt size; bolt; base bolt; bolt diameter; schraube; schraubengröße; boulon; perno; medidas perno",
    "lip_depth": "lip; lip depth; lippe; bordtiefe; lèvre; labio; medidas labio",
    "mass": """mass; weight; unit mass; total mass; gewicht; masse; gesamtgewicht; gesamtmasse; poids; poids total; masse totale
        masa; peso; masa total; peso total""",
    "bearing_mass": """bearing mass; bearing weight; mass of bearing; lagermasse; lagergewicht; masse du roulement
        masa rodamiento; masa del rodamiento; peso del rodamiento""",
    "support_mass": """support mass; support weight; mass of support; pedestal mass; stützenmasse; masse du support
        masa soporte; masa del soporte; peso del soporte""",
    "heaviest_half": "heaviest half; heaviest part; schwerste hälfte; moitié la plus lourde; masa mitad; mitad más pesada",
    "price": "price; unit price; list price; preis; listenpreis; stückpreis; prix; prix unitaire; precio; precio unidad",
    "bearing_price": "bearing price; price of bearing; lagerpreis; prix du roulement; precio rodamiento",
    "support_price": "support price; price of support; stützenpreis; prix du support; precio soporte",
    "lead_time": """lead time; lead; delivery; delivery time; lead weeks; lieferzeit; délai; délai de livraison
        plazo; plazo de entrega""",
}
_CLEARANCE = (
    "clearance; radial clearance; cl; luft; lagerluft; radialluft; jeu; jeu radial; juego; juego radial"
)
_ENDS = {"clearance_min": "min; minimum; mín; least; von", "clearance_max": "max; maximum; máx; largest; bis"}
_SEALS = {
    SealKind.PACKING: "packing; packung; filz; tresse; garniture; empaquetadura",
    SealKind.LABYRINTH: "labyrinth; labyrinthdichtung; labyrinthe; laberinto",
    SealKind.CLOSED_END: """closed end; closed; end cover; geschlossen; geschlossenes ende; deckel; abschlussdeckel
        couvercle; tapa; tapa ciega""",
}
_OF_SEALS = {
    "seal_offered": "; offered; lieferbar; disponible; sellos",
    "seal_speed": "speed; drehzahl; geschwindigkeit; vitesse; velocidad",
    "seal_temperature": "temperature; temperatur; température; temperatura",
    "seal_price": "price; preis; prix; precio",
}
SYMBOLS = {
    "d": "bore",
    "Z": "rollers",
    "i": "rows",
    "Dw": "roller_diameter",
    "Dwe": "roller_diameter",
    "Lw": "roller_length",
    "Lwe": "roller_length",
    "Dpw": "pitch_diameter",
    "C": "dynamic_rating",
    "Cr": "dynamic_rating",
    "C0": "static_rating",
    "Co": "static_rating",
    "C0r": "static_rating",
    "Cor": "static_rating",
    "Cu": "fatigue_limit",
    "Pu": "fatigue_limit",
    "Fa": "axial_capacity",
    "Famax": "axial_capacity",
    "n": "speed_limit",
    "nmax": "speed_limit",
    "m": "mass",
}
"""Symbols of ISO 281 and ISO 76, and those beside them that leave no doubt; their case counts."""
UNSURE = {
    "A": "length or width",
    "B": "length or width, or the ring alone",
    "D": "the outside diameter, which no check needs",
    "H": "centre_height or height",
    "J": "bolt_spacing",
    "L": "length or width",
    "N": "bolt_slot or bolt_size",
    "e": "bolt_spacing, or a factor of the bearing",
    "h": "centre_height or height",
    "s": "bolt_size, or the axial travel",
    "F": "inner_raceway",
}
"""Symbols that suppliers use for different things → what they may stand for."""
LETTERS = {
    "locating": {
        "locating": "locating; held; fixed; fix; fest; festlager; fixe; fijo",
        "non-locating": "non-locating; free; float; floating; los; loslager; libre",
    },
    "support": {
        "plain": "plain; foot; pillow block; pedestal; stehlager; fuß; semelle; droit; llano; recto",
        "side-entry": "side entry; side-entry; seitlich; latéral; lateral",
        "flange": "flange; flansch; flanschlager; bride; brida",
        "take-up": "take-up; take up; spannlager; tendeur; tensor",
    },
    "hand": {
        "left": "left; links; gauche; izquierda; izq; l",
        "right": "right; rechts; droite; derecha; der; r",
        "none": "none; ohne; keine; sans; ninguno; -",
    },
    "seal_offered": {"yes": "yes; y; ja; j; oui; sí; x", "no": "no; n; nein; non; -"},
}
"""Field → word → how its cells say it. F is fixed to one supplier and free to the next: few single letters are sure."""


def _split(text: str) -> list[tuple[str, ...]]:
    return [tuple(folded(part).split()) for part in text.replace("\n", ";").split(";")]


def _synonyms() -> dict[str, list[tuple[str, ...]]]:
    found = {path: _split(text) for path, text in _WORDS.items()}
    for name, ends in _ENDS.items():
        for group in COLUMNS[name]:
            numbers = ((), (group,)) if group == "1" else ((group,),)
            found[f"{name}.{group}"] = [
                (*base, *number, *end)
                for base in _split(_CLEARANCE)
                for end in _split(ends)
                for number in numbers
            ]
    for name, words in _OF_SEALS.items():
        for kind, seals in _SEALS.items():
            found[f"{name}.{kind.word}"] = [
                (*word, *seal) for word in _split(words) for seal in _split(seals)
            ]
    return found


SYNONYMS: dict[str, list[frozenset[str]]] = {
    path: [frozenset(words) for words in synonyms if words] for path, synonyms in _synonyms().items()
}
"""Field → the sets of words that name it, in any order."""
