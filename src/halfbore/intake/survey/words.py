"""What people write for the choices of a field, in English, German, French and Spanish (common practice, no source)."""

from __future__ import annotations

import re
from enum import StrEnum
from functools import cache
from typing import Any, get_args, get_origin

from halfbore.domain.duty import LubricantKind
from halfbore.domain.fields import FieldInfo
from halfbore.domain.machine import Contamination, Dust, End, MachineKind, Rotation, Water
from halfbore.domain.position import DamageMode, EntrySide, Fixing, Mounting, Role
from halfbore.intake.check import PartKind
from halfbore.intake.survey.fold import entries, folded

_WORDS: dict[Any, str] = {
    bool: """
yes: yes; y; ja; j; oui; o; si; s; x; ✓; ✔; ☑; ☒; true; wahr; vrai; ok; vorhanden
no: no; n; nein; non; false; falsch; faux; falso; none; keine; kein; aucun; ninguno
""",
    MachineKind: """
fan: fan; ID fan; FD fan; blower; exhaust fan; Ventilator; Saugzug; Lüfter; Gebläse; ventilateur; ventilador; soplante
head shaft: head shaft; conveyor head; head drum; head pulley; conveyor; Kopftrommel; Antriebstrommel
  Gurtförderer; tambour de tête; tambour moteur; tambor motriz; tambor de cabeza
tail drum: tail drum; tail pulley; Umlenktrommel; Hecktrommel; tambour de queue; tambour de renvoi
  tambor de cola
elevator head: elevator head; bucket elevator head; Becherwerkskopf; tête d'élévateur; cabeza de elevador
elevator boot: elevator boot; bucket elevator boot; Becherwerksfuß; pied d'élévateur; pie de elevador
paddle shaft: paddle shaft; mixer; hydrator; Paddelwelle; Mischer; arbre à pales; mélangeur; eje de paletas
  mezclador
screw: screw; screw conveyor; feed screw; Schnecke; Schneckenförderer; vis; vis sans fin; tornillo
  tornillo sin fin
jackshaft: jackshaft; countershaft; Vorgelegewelle; arbre intermédiaire; contraeje; eje intermedio
line shaft: line shaft; Transmissionswelle; Wellenstrang; arbre de transmission; eje de transmisión
plain shaft: plain shaft; shaft; glatte Welle; arbre lisse; eje liso
""",
    Role: """
locating: locating; fixed; loc; held; fest; Festlager; fixe; palier fixe; fijo
non-locating: non-locating; non locating; floating; float; free; expansion; los; Loslager; libre
  palier libre; flottant; flotante
""",
    Mounting: """
adapter sleeve: adapter sleeve; sleeve; sleeve mounted; Spannhülse; Hülse; manchon; manchon de serrage; manguito
  manguito de fijación
withdrawal sleeve: withdrawal sleeve; Abziehhülse; manchon de démontage; manguito de desmontaje
direct seat: direct seat; direct; one-piece; Presssitz; direkt; zylindrischer Sitz; portée directe
  direct sur arbre; asiento directo; directo
tapered seat: tapered seat; Kegelsitz; portée conique; asiento cónico
set screw: set screw; set-screw; set screws; Gewindestift; Gewindestifte; Madenschraube; vis de blocage
  tornillo prisionero; prisionero
eccentric collar: eccentric collar; Exzenterring; bague excentrique; anillo excéntrico
plain bush: plain bush; bush; plain bearing; Gleitlager; Buchse; coussinet; palier lisse; casquillo; buje
split unit: split unit; split; split bearing; geteiltes Lager; geteilt; palier fendu; rodamiento partido
  partido
""",
    EntrySide: """
left: left; links; gauche; izquierda; L
right: right; rechts; droite; derecha; R
both: both; both sides; either; beide; beidseitig; les deux; deux côtés; ambos; ambos lados
neither: neither; none; keine; aucun; ninguno
""",
    Fixing: """
base: base; floor; foundation; plummer; Fundament; Grundplatte; Fuß; socle; châssis; bancada
side-entry base: side-entry base; side entry
wall: wall; flange; Wand; Flansch; mur; bride; pared; brida
take-up frame: take-up frame; take-up; take up; Spannrahmen; Spannschlitten; tendeur; glissière; tensor
  bastidor tensor
""",
    DamageMode: """
subsurface initiated fatigue: subsurface fatigue; fatigue; spalling; Ermüdung; Pitting; Grübchen; écaillage
  fatiga; descascarillado
surface initiated fatigue: surface fatigue; grease fatigue; lack of grease; Schmierstoffmangel; Mangelschmierung
  manque de graisse; falta de grasa
abrasive wear: abrasive wear; wear; dirt; dust; contamination; Verschleiß; Schmutz; Staub; usure; poussière
  saleté; desgaste; polvo; suciedad
adhesive wear: adhesive wear; skidding; smearing; smears; skidding smears; Anschmierung; Anschmierungen
  arrastre
moisture corrosion: moisture corrosion; water; rust; corrosion; steam; Wasser; Rost; Korrosion; Dampf; eau
  rouille; vapeur; agua; óxido; vapor
fretting corrosion: fretting corrosion; fretting; Passungsrost; Reibkorrosion; corrosion de contact
  corrosión de contacto
false brinelling: false brinelling; Stillstandsmarken; Riffelbildung; faux effet Brinell; falso brinelling
electrical erosion: electrical erosion; current; electric; Stromdurchgang; passage de courant; paso de corriente
overload: overload; Überlast; surcharge; sobrecarga
indentations from particles: indentations from particles; indentation; dents; Eindrückungen; indentations
  indentaciones
forced fracture: forced fracture; fracture; broken; Bruch; Gewaltbruch; rupture; cassure; rotura
fatigue fracture: fatigue fracture; Dauerbruch; Ermüdungsbruch; rupture par fatigue; rotura por fatiga
thermal cracking: thermal cracking; Wärmerisse
not known: not known; unknown; unbekannt; inconnu; desconocido
""",
    Rotation: """
clockwise: clockwise; cw; rechts; im Uhrzeigersinn; horaire; horario
counter-clockwise: counter-clockwise; anticlockwise; ccw; links; gegen Uhrzeigersinn; antihoraire; antihorario
both: both; either; beide; reversierend; les deux; ambos; reversible
""",
    Dust: """
none: none; clean; kein; keiner; sauber; aucune; propre; ninguno; limpio
dust: dust; dusty; Staub; staubig; poussière; poussiéreux; polvo
heavy or abrasive: heavy or abrasive; heavy; abrasive; much; stark; viel; abrasif; forte; mucho; abrasivo
""",
    Water: """
none: none; dry; kein; trocken; sec; aucune; seco; ninguna
splash: splash; rain; splashes; Spritzwasser; Regen; éclaboussures; pluie; salpicaduras; lluvia
jet: jet; wash-down; hose; Strahlwasser; jet d'eau; lavage; chorro; lavado
standing: standing; flooded; under water; stehend; überflutet; inondé; inundado
""",
    Contamination: """
normal cleanliness: normal cleanliness; clean; sauber; propre; limpio
slight to typical: slight to typical; slight; typical; normal; leicht; gering; légère; ligera
severe: severe; heavy; dirty; stark; schmutzig; forte; severa; fuerte
very severe: very severe; very dirty; sehr stark; très forte; muy severa
""",
    LubricantKind: """
grease: grease; Fett; graisse; grasa
oil: oil; Öl; huile; aceite
""",
    End: """
drive end: drive end; drive side; Antriebsseite; AS; côté entraînement; lado accionamiento
free end: free end; non-drive end; Gegenseite; côté opposé; lado opuesto
""",
    PartKind: """
fan wheel: wheel; impeller; fan wheel; Laufrad; Ventilatorrad; roue; turbine; rodete; impulsor
coupling: coupling; coupling half; half coupling; Kupplung; Kupplungshälfte; accouplement; demi-accouplement
  acoplamiento
sheave: sheave; pulley; V-belt pulley; chain wheel; Riemenscheibe; Keilriemenscheibe; Kettenrad; poulie; polea
drum: drum; head drum; tail drum; Trommel; tambour; tambor
elevator drum: elevator drum; elevator pulley; Becherwerkstrommel; tambour d'élévateur; tambor de elevador
paddles: paddles; arms; Paddel; Arme; pales; bras; paletas; brazos
screw flight: screw; flight; screw flight; Schnecke; Wendel; Schneckenwendel; vis; hélice; tornillo; hélice
shaft-mounted drive: gear unit; gearbox; shaft-mounted drive; hung gear unit; Aufsteckgetriebe; Getriebe
  réducteur; réducteur flottant; reductor
point load: point load; weight; other; flywheel; Schwungrad; Gewicht; Punktlast; volant; charge; carga; volante
""",
}
_THREAD = re.compile(r"M\s?(\d{1,3})(?:\s?[x×].*)?", re.IGNORECASE)
"""A metric thread: its nominal diameter in mm is the number (ISO 261)."""


@cache
def _known(kind: Any) -> dict[str, str]:
    """Return the folded words for the choices of a field, signs as they are, each with the choice that it means."""
    found: dict[str, str] = {}
    for meaning, texts in entries(_WORDS.get(kind, "")):
        for text in (meaning, *texts):
            found.setdefault(folded(text) or text, meaning)
    return found


def choice_of(info: FieldInfo) -> Any:
    """Return the choices of a field: bool, or the words of it; nothing for a field without choices."""
    hint = get_args(info.type)[0] if get_origin(info.type) is tuple else info.type
    return hint if hint is bool or (isinstance(hint, type) and issubclass(hint, StrEnum)) else None


def meaning_of(text: str, choices: Any) -> str:
    """Return the word of ours that a text most likely means, empty where none is known."""
    words = _known(choices)
    text = folded(text) or text.strip()
    if text in words:
        return words[text]
    if choices is bool:
        return ""
    inside = {meaning for known, meaning in words.items() if len(known) > 3 and f" {known} " in f" {text} "}
    return inside.pop() if len(inside) == 1 else ""


def thread(text: str) -> str:
    """Return the nominal diameter that a metric thread names, empty for another text."""
    found = _THREAD.fullmatch(text.strip())
    return f"{found[1]} mm" if found else ""
