"""The words by which a private text is known, and those that make it innocent: English, Spanish.

Written without accents and in small letters; a plural in `s` or `es` counts as its singular.
All common practice, no source.
"""

from __future__ import annotations


def _words(*lines: str) -> frozenset[str]:
    return frozenset(word for line in lines for word in line.split())


# Their point ends no sentence.
ABBREVIATIONS = _words("tel cel cod no num ser ext mr mrs sr sra av blvd st ave rd")

# What names a secret.
CODES = _words("code keycode combo combination", "codigo cod clave combinacion")
PINS = _words("pin nip")
SPOKEN = _words("clave")  # is often a word: 'clave: garza'
PASSWORDS = _words("password passcode passphrase passwd pwd pw psk ssid", "contrasena")
LOGINS = _words("login username user", "usuario")  # only with a colon: one may log in at the office
NETWORKS = _words("wifi network wlan wpa wpa2 router hotspot", "modem")
NETWORK_KEYS = _words("key pass code login", "clave llave pase")  # behind a network

# What a secret opens.  A number beside a lock is its code; beside a gate it may be the gate's own.
LOCKS = _words(
    "lock lockbox keybox keysafe keypad padlock alarm disarm unlock intercom callbox",
    "candado cerradura cerrojo chapa teclado teclear teclee alarma desactivar desarmar interfon",
    "cajadellaves",
)
GATES = _words("gate", "porton reja cancela verja zaguan")
DOORS = _words(
    "door entry entrance access shed garage barrier",
    "puerta entrada entrar acceso bodega cochera caseta",
)
# Several words, or two spellings, that are one of the words above.
ONE_WORD = (
    (r"wi-? ?fi", "wifi"),
    (r"lock[ -]box", "lockbox"),
    (r"key[ -]box", "keybox"),
    (r"key[ -]safe", "keysafe"),
    (r"key[ -]pad", "keypad"),
    (r"pad[ -]lock", "padlock"),
    (r"call[ -]box", "callbox"),
    (r"pass[ -]word", "password"),
    (r"pass[ -]code", "passcode"),
    (r"caja de (?:las )?llaves", "cajadellaves"),
)

# What a number may be of, so that it is none of a lock: 'valve code 4471', 'box 1204'.
LABELS = _words(  # explain a number even behind a colon: 'serial: 619-555-0142'
    "serial ser sn s/n part p/n pn model rev revision version drawing sheet batch order",
    "invoice permit product item catalog stock sku zip postal",
    "serie parte pieza modelo catalogo plano hoja lote orden pedido factura permiso",
    "producto articulo barra",
)
TRADE = LABELS | _words(
    "valve box lid station zone decoder controller clock cable wire conductor coil solenoid splice",
    "connector terminal sensor meter pump relay module panelboard filter regulator tank well",
    "plan detail lot job project tag label flag card legend page",
    "colour color size gauge pipe manifold head nozzle rotor spray drip emitter fitting",
    "coupling elbow tee bushing nut washer bolt screw ring hinge",
    "tree oak shrub plant rose bed lawn turf hedge planter garden grass pot",
    "post area bar qr date flow pressure level threshold unit suite nec iso iec din asme ansi",
    "valvula caja tapa estacion zona decodificador controlador programador alambre hilo bobina",
    "solenoide empalme conector medidor bomba rele relevador modulo filtro regulador tanque pozo",
    "detalle obra proyecto etiqueta bandera tarjeta leyenda pagina tamano calibre tubo tuberia",
    "aspersor boquilla goteo gotero tuerca rondana tornillo arbol encino arbusto planta rosal seto",
    "cesped pasto jardin jardinera cantero maceta lada fecha flujo presion nivel unidad",
    "depto norma",
)
# Codes that are none of a lock: 'error code 4471', 'código eléctrico 2023'.
KINDS_OF_CODE = TRADE | _words(
    "electrical building plumbing fire national local error fault blink trade",
    "electrico construccion edificio error falla",
)
# Beside a pin of metal: 'survey pin 1042'.
METAL = _words("survey rebar iron steel boundary hinge plug connector", "acero varilla clavija")
RULES = _words("per to meets under", "segun conforme al")  # 'per code 2023' is a law
NUMBER_SIGNS = _words("no n n.o num number nr", "numero")

UNITS = _words(
    "ft foot feet in inch inche yd mi m cm mm km metre meter mile sq m2 mm2 ft2",
    "v vac vdc volt a ma amp ampere w kw va hp ohm kohm megohm ω hz khz mhz ghz awg",
    "gpm gph lpm l gal gallon liter liter psi bar kpa f c lb kg % ° min minute sec second s h hr",
    "hour day week month year time bag",
    "pie pulg pulgada metro milla ca cc voltio amperio ohmio galone litro minuto segundo hora dia",
    "semana mes ano vez bulto",
)
SHORT_UNITS = _words("in a")  # in English, Spanish also little words: no unit of a long number
TIMES = _words("x by", "por")
# '2019' after them is a year.
YEAR_WORDS = _words(
    "in since from until year spring summer fall autumn winter installed rebuilt built new moved",
    "replaced fixed repaired edition code",
    "january february march april may june july august september october november december",
    "en desde hasta de del ano primavera verano otono invierno instalado instalada nuevo nueva",
    "movido movida cambiado cambiada reparado reparada codigo",
    "enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre",
)
STREETS_AFTER = _words("st street ave avenue rd road dr drive ln lane blvd boulevard hwy highway")
STREETS_BEFORE = _words(
    "calle c/ av avenida calz calzada carretera camino blvd bulevar privada col colonia highway hwy"
)

# Little words between a secret and what it opens, or between it and its number.
LINKS = _words(
    "is are was the a for of to at on opens open now new then and use with",
    "es son era el la los las de del al para en abre abrir ahora nuevo nueva con y que",
)
IS = _words("is", "es")
CHANGED = _words("changed set reset", "cambiada cambiado cambio")
CHANGED_TO = _words("to", "a por")
# After 'password', or after 'the code is', they say where it is kept, or that there is none.
ELSEWHERE = _words(
    "at in with by from on ask see call needed need required protected unknown known not no none",
    "lost same changed change set reset office page field screen manager prompt kept held only who",
    "may must has have new good weak before after if",
    "en con por sin ver vea requerida requerido necesaria necesario desconocida desconocido no",
    "ninguna perdida misma mismo cambiada cambiado cambiar guardada guardado protegida protegido",
    "oficina aparte se quien antes despues si solo",
)
ELSEWHERE_STEMS = ("ask", "pedir", "pida", "pregunt", "consult", "solicit", "llam")
# 'clave' is a key to signs, too: 'clave: rojo = fase'.
COLORS = _words(
    "black white red green blue brown yellow orange purple violet pink grey gray tan",
    "negro blanco rojo verde azul cafe marron amarillo naranja morado violeta rosa gris",
)

PHONES = _words(
    "call phone telephone tel cell mobile ph fax text sms whatsapp ring dial contact hotline",
    "llame llamar llama llamen telefono cel celular movil marque marcar fono mensaje contacto",
)
PUBLIC_NUMBERS = _words("811 911 112")  # to call before digging, and for help
