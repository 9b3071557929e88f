"""What people head their columns with, in English, German, French and Spanish (common practice, no source).

A line is a path and its headings; `left` and `right` are seen from the drive end, as everywhere.
"""

from __future__ import annotations

from functools import cache

from halfbore.domain.survey import Thing
from halfbore.intake.survey.fold import entries, folded
from halfbore.intake.survey.targets import paths_of

_TAGS = """
tag.position: position; pos; pos no; bearing; bearing position; bearing tag; bearing no; bearing id; tag; Lagerstelle
  Lager; Lager Nr; Lagerposition; Lagerplatz; Lagerbezeichnung; palier; repère; repère palier; poste de palier; n° palier
  roulement; rodamiento; cojinete; soporte; apoyo; posición; posición rodamiento; etiqueta
tag.machine: machine; machine tag; machine no; machine id; equipment; equipment no; asset; Maschine; Maschinen Nr; Anlage
  Aggregat; équipement; repère machine; máquina; equipo; número de máquina
tag.shaft_line: shaft line; shaft; shaft name; Wellenstrang; Strang; Welle; arbre; ligne d'arbre; ligne d'arbres; eje
  línea de ejes; línea de eje
"""
_POSITION = """
x: x; distance; distance from drive end; place along the shaft; distance along shaft; Abstand; Abstand von Antriebsseite
  Abstand AS; Lage; Maß x; Abstand Antriebsende; distance côté entraînement; abscisse; cote x; distancia; cota x
  distancia desde el lado de accionamiento; distance du bout d'entraînement
role: role; locating; locating or floating; fixed or floating; fixed floating; fixed free; locating non-locating
  Fest Los; Fest Loslager; Festlager Loslager; Fest- oder Loslager; Lagerung; Lagerart; fixe libre; fixe ou libre; fonction
  fijo libre
  fijo o libre; función
convert: convert; split wanted; split unit wanted; to convert; umbauen; umrüsten; Umrüstung; à convertir; convertir
trapped_between: trapped between; trapped; between; eingebaut zwischen; zwischen; gefangen zwischen; entre; pris entre
  coincé entre; encerrado entre; situado entre
old_mounting: mounting; existing; existing bearing; old bearing; old mounting; mounted by; Einbau; Befestigung
  Befestigung auf Welle; vorhandenes Lager; Bestand; Lagerbefestigung; montage; fixation; montage existant; montaje
  fijación; montaje existente
old_is_seized: seized; is seized; festgefressen; gefressen; festgerostet; grippé; agarrotado; gripado
seat.diameter: shaft diameter; shaft dia; seat diameter; seat dia; measured diameter; shaft measured; diameter measured
  seat found; seat; measured dia; Welle dia; Wellendurchmesser; Wellen dia; Sitzdurchmesser; Lagersitz; Lagersitz dia
  Sitz dia; Durchmesser gemessen; gemessener Durchmesser; Istmaß; Ist Durchmesser; diamètre arbre; dia arbre
  diamètre de l'arbre; diamètre mesuré; portée; dia portée; diámetro eje; diámetro del eje; diámetro medido; dia eje; asiento
seat.nominal: nominal; nominal diameter; nominal dia; nominal size; bore; shaft size; shaft nominal; Nennmaß
  Nenndurchmesser; Nenn dia; Nennweite; Bohrung; Welle nominal; diamètre nominal; alésage; dia nominal; diámetro nominal
seat.form_error: form error; roundness; out of round; taper; ovality; Rundheit; Rundheitsfehler; Formfehler; Unrundheit
  Konizität; faux rond; ovalisation; circularité; conicité; ovalidad; redondez; conicidad
seat.note: seat note; seat condition; condition of seat; seat remarks; Zustand Sitz; Sitz Zustand; Bemerkung Sitz
  état portée; état de la portée; estado del asiento
room.plain_left: plain left; room left; free left; plain shaft left; free towards drive; free length drive side
  Platz links; frei links; freie Länge links; freie Länge Antriebsseite; libre gauche; longueur libre gauche
  longueur libre côté entraînement; libre izquierda; longitud libre izquierda; longitud libre lado accionamiento
room.plain_right: plain right; room right; free right; plain shaft right; free towards free end; free length free side
  Platz rechts; frei rechts; freie Länge rechts; freie Länge Gegenseite; libre droite; longueur libre droite
  longueur libre côté opposé; libre derecha; longitud libre derecha; longitud libre lado opuesto
room.left_is: left is; left ends at; room left ends at; links begrenzt durch; limité à gauche par; limitado a la izquierda por
room.right_is: right is; right ends at; room right ends at; rechts begrenzt durch; limité à droite par
  limitado a la derecha por
room.beside: beside; width beside; free width beside; room beside; seitlich frei; Platz seitlich; Breite seitlich
  largeur libre; largeur latérale; ancho libre; espacio lateral
room.entry_side: entry side; access side; access; access from; Zugang; Zugangsseite; Zugang von; côté d'accès; accès
  lado de acceso; acceso
room.headroom: headroom; height above; free height; height above shaft; Kopffreiheit; freie Höhe; Höhe über Welle
  hauteur libre; altura libre
room.hoist: hoist; crane; crane reaches; hoist reaches; Kran; Hebezeug; Kran vorhanden; palan; pont roulant; grúa; polipasto
base.fixing: fixing; base; mounted on; stands on; Unterbau; Auflage; befestigt an; support du palier; appui; base de apoyo
base.centre_height: centre height; center height; shaft height; centre height of housing; height of centre; Achshöhe
  Mittenhöhe; Wellenhöhe; Spitzenhöhe; hauteur d'axe; hauteur axe; altura de eje; altura eje; altura al centro
base.bolt_spacing: bolt spacing; bolt distance; bolt centres; bolt centers; bolt pitch; Lochabstand; Schraubenabstand
  Bohrungsabstand; entraxe; entraxe boulons; entraxe de fixation; distancia entre pernos; distancia pernos
base.bolt_size: bolt size; bolt; bolts; bolt dia; bolt diameter; Schraube; Schrauben; Schraubengröße; Schraubendurchmesser
  boulon; boulons; taille boulon; perno; pernos; tamaño del perno
base.stud_stick_out: stud stick out; stick out; stud height; stud projection; Überstand; Bolzenüberstand
  Überstand Stehbolzen; dépassement goujons; saillie goujons; saliente espárragos
base.height_error: height error; out of line; height off; height deviation; Höhenfehler; Höhenversatz; Höhenabweichung
  écart de hauteur; défaut d'alignement; error de altura; desnivel
base.tilt_error: tilt; tilt error; base tilt; Neigung; Schiefstellung; inclinaison du socle; inclinación de la base
base.holds_down: holds down; hält nieder; retient vers le bas; sujeta hacia abajo
base.drive_can_follow: drive can follow; line can be raised; Antrieb nachstellbar; entraînement réglable
lift.allowed: lift; allowed lift; lift allowed; shaft lift; Anhub; zulässiger Anhub; Wellenanhub; levée; levée admissible
  elevación; elevación admisible
lift.limited_by: lift limited by; limited by; Anhub begrenzt durch; begrenzt durch; limité par; limitado por
lift.jack_x: jack; jack at; jack place; Heber; Heber bei; vérin; position vérin; gato; posición del gato
seal_left.diameter: seal left; seal diameter left; Dichtung links; Dichtung dia links; joint gauche; étanchéité gauche
  sello izquierdo; junta izquierda
seal_right.diameter: seal right; seal diameter right; Dichtung rechts; Dichtung dia rechts; joint droit; étanchéité droite
  sello derecho; junta derecha
shaft_temperature: shaft temperature; shaft temp; shaft temperature at bearing; shaft temp at bearing; Wellentemperatur
  shaft temperature measured; temperature of shaft; Wellentemperatur am Lager; Wellentemperatur gemessen; Temperatur Welle
  Temperatur der Welle; température arbre; température de l'arbre; température de l'arbre au palier; temperatura del eje
  temperatura del eje en el rodamiento
in_service_since: in service since; date fitted; fitted on; commissioned
  installed; installed on; date installed; running since; fitted; Einbaudatum
  eingebaut am; eingebaut seit; in Betrieb seit; en service depuis; date de montage; monté le; en servicio desde
  fecha de montaje; instalado
surveyed_by: surveyed by; measured by; surveyor; aufgenommen von; gemessen von; Prüfer; relevé par; mesuré par; medido por
failure.on: last change; last failure; last changed; removed; removed on; failure date; date of failure; letzter Wechsel
  letzter Ausfall; Ausfall; Ausfall am; Wechsel am; Wechsel; Ausfalldatum; ausgebaut am; Ausbau
  dernier changement; dernière panne; déposé le
  date de panne; último cambio; última avería; fecha de avería
failure.why: cause; why; reason; failure cause; cause of failure; damage; Ursache; Ausfallursache; Schaden; Schadensbild
  Grund; cause de panne; avarie; dommage; causa; causa de la avería; daño
failure.stop: stop; outage; downtime; hours stopped; stop hours; Stillstand; Stillstandszeit; Ausfallzeit; arrêt
  durée d'arrêt; parada; tiempo de parada; horas de parada
failure.failed: failed; had failed; ausgefallen; défaillant; falló
failure.note: failure note; what was seen; Befund; constat; hallazgo
"""
_LINE = """
machine.kind: machine kind; kind of machine; machine type; type of machine; kind; type; Maschinenart; Maschinentyp
  Art der Maschine; Bauart; type de machine; genre de machine; tipo de máquina
machine.plant: plant; site; works; Werk; Betrieb; Standort; usine; planta
machine.rotation: rotation; sense of rotation; direction of rotation; Drehrichtung; Drehsinn; sens de rotation
  sentido de giro; sentido de rotación
machine.site.ambient: ambient; ambient temperature; air temperature; Umgebungstemperatur; Umgebung; température ambiante
  temperatura ambiente
machine.site.contamination: contamination; cleanliness; Verunreinigung; Sauberkeit; propreté; contaminación; limpieza
machine.site.dust: dust; dirt; Staub; Schmutz; poussière; polvo; suciedad
machine.site.water: water; moisture; Wasser; Feuchte; eau; humidité; agua; humedad
machine.site.explosive_zone: zone; explosive zone; ex zone; Ex-Zone; zone atex; zona explosiva
machine.variable_speed: variable speed; converter; inverter; Umrichter; Frequenzumrichter; variateur; variador
machine.name_plate.power: power; motor power; rated power; Leistung; Motorleistung; Nennleistung; puissance
  puissance moteur; potencia; potencia motor; potencia del motor
machine.name_plate.motor_speed: motor speed; Motordrehzahl; vitesse moteur; velocidad motor; velocidad del motor
machine.name_plate.ratio: ratio; gear ratio; Übersetzung; Übersetzungsverhältnis; rapport; rapport de réduction
  relación; relación de transmisión
lubricant.kind: lubricant; lubrication; Schmierstoff; Schmierung; lubrifiant; lubrification; lubricante; lubricación
lubricant.iso_vg: iso vg; viscosity grade; Viskositätsklasse; classe de viscosité; grado de viscosidad
customer: customer; client; Kunde; cliente
shaft.material: shaft material; Wellenwerkstoff; Werkstoff Welle; matière arbre; material del eje
shaft.inclination: shaft inclination; inclination; Wellenneigung; inclinaison de l'arbre; inclinación del eje
value.hours_a_year: hours a year; running hours a year; hours per year; Betriebsstunden im Jahr; Betriebsstunden pro Jahr
  heures par an; horas al año
"""
_CONDITION = """
name: name; condition; operation; Name; Betrieb; Betriebsart; Betriebszustand; Bezeichnung; nom; régime; nombre; condición
share: share; share of time; time share; Anteil; Zeitanteil; part; part du temps; proporción; parte del tiempo
speed: speed; shaft speed; rpm; revolutions; Drehzahl; Wellendrehzahl; vitesse; vitesse de rotation; velocidad; rpm eje
  velocidad del eje; tours
load_factor: load factor; service factor; Lastfaktor; Betriebsfaktor; facteur de charge; factor de carga
shaft_temperature: shaft temperature; Wellentemperatur; température arbre; température de l'arbre; temperatura del eje
housing_temperature: housing temperature; bearing temperature; Gehäusetemperatur; Lagertemperatur; température palier
  temperatura de la caja; temperatura del rodamiento
"""
_FAILURE = """
on: date; removed; removed on; failure date; changed; Datum; Wechsel; Ausfalldatum; Ausbau; date de panne; déposé le; fecha
  fecha de avería
why: cause; why; reason; damage; Ursache; Ausfallursache; Schaden; Schadensbild; Grund; avarie; dommage; causa; daño
failed: failed; had failed; ausgefallen; défaillant; falló
stop: stop; outage; downtime; hours stopped; Stillstand; Stillstandszeit; Ausfallzeit; arrêt; durée d'arrêt; parada
  tiempo de parada
note: note; remarks; remark; comment; Bemerkung; Bemerkungen; Befund; remarque; remarques; observations; nota; observaciones
"""
_SEGMENT = """
length: length; Länge; longueur; longitud
diameter: diameter; dia; outside diameter; Durchmesser; Außendurchmesser; diamètre; diamètre extérieur; diámetro
bore: bore; inside diameter; Bohrung; Innendurchmesser; alésage; diamètre intérieur; agujero; diámetro interior
"""
_PART = """
kind: kind; part; kind of part; part kind; type; element; component; Art; Bauteil; Teil; Teileart; pièce; type de pièce
  élément; composant; pieza; elemento; componente; tipo
name: name; designation; description; Bezeichnung; Benennung; Name; nom; désignation; nombre; denominación; descripción
x: x; distance; place; distance from drive end; Abstand; Lage; Abstand Antriebsende; abscisse; cote x; distancia; cota x
mass: mass; weight; Masse; Gewicht; masse; poids; masa; peso
diameter: diameter; dia; Durchmesser; diamètre; diámetro
width: width; Breite; largeur; ancho
face: face; face width; Mantelbreite; largeur du tambour; ancho del tambor
direction: direction; direction of pull; Richtung; Zugrichtung; sens de la traction; dirección
pull: pull; belt pull; Zug; Riemenzug; Zugkraft; traction; tensión de correa
force: force; load; Kraft; Last; effort; charge; fuerza; carga
axial_force: axial force; thrust; Axialkraft; Schub; effort axial; fuerza axial; empuje
axial_thrust: axial thrust; fan thrust; Axialschub; poussée axiale; empuje axial
power: power; Leistung; puissance; potencia
balance_grade: balance grade; balance quality; Wuchtgüte; qualité d'équilibrage; calidad de equilibrado
gas_temperature: gas temperature; Gastemperatur; température des gaz; temperatura del gas
tight_strand: tight strand; tight side; Zugtrum; Lasttrum; brin tendu; ramal tenso
slack_strand: slack strand; slack side; Leertrum; brin mou; ramal flojo
arm_force: arm force; torque arm; torque arm force; Stützkraft; Drehmomentstütze; effort du bras; brazo de par
arm_reach: arm reach; arm length; Armlänge; Hebelarm; longueur du bras; longitud del brazo
take_up: take up; take-up force; Spannkraft; tension; force de tension; fuerza tensora
reaction: reaction; coupling reaction; Rückstellkraft; réaction; reacción
length: length; Länge; longueur; longitud
"""
_OPERATION = ("operation", "Betrieb", "Betriebsart", "Betriebszustand")
"""What heads the name of a condition where rows are about something else; a plain name is then not meant."""


def _table(text: str, prefix: str = "") -> dict[str, list[str]]:
    return {prefix + path: [folded(name) for name in names] for path, names in entries(text)}


@cache
def headings_for(thing: Thing) -> dict[str, tuple[str, ...]]:
    """Return what people head the columns of a table of a thing with: path → folded headings, the path's own first."""
    texts = {
        Thing.POSITION: [_TAGS, _POSITION, _LINE],
        Thing.FAILURE: [_TAGS, _FAILURE],
        Thing.PART: [_TAGS, _PART],
        Thing.SEGMENT: [_TAGS, _SEGMENT],
        Thing.CONDITION: [_TAGS, _CONDITION],
        Thing.MACHINE: [_TAGS, _LINE],
        Thing.SHAFT_LINE: [_TAGS, _LINE],
        Thing.PLANT: [_LINE],
    }[thing]
    found = {path: list(names) for text in texts for path, names in _table(text).items()}
    if "condition.speed" in paths_of(thing):
        found |= _table(_CONDITION, "condition.")
        found["condition.name"], found["condition.share"] = [folded(text) for text in _OPERATION], []
        if thing is Thing.POSITION:  # a shaft temperature beside a bearing is that bearing's
            found["condition.shaft_temperature"] = []
    known = paths_of(thing)
    return {
        path: tuple(
            dict.fromkeys([folded(path.removeprefix("tag.").replace(".", " ")), *found.get(path, ())])
        )
        for path in known
    }
