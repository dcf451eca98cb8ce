"""Host trees as somebody else may have filled them: rings, pipes, devices, binary."""

from hostile.calls import HERE, Call, Tree
from hostile.pd_words import as_given
from hostile.signs import FIGURES, Draw, any_sign, raw, spoiled

OBJECTS: dict[str, dict[str, str]] = {
    "fixed_supply": {"voltage": "9000mV", "maximum_current": "3000mA", "peak_current": "0"},
    "programmable_supply": {
        "minimum_voltage": "3300mV",
        "maximum_voltage": "11000mV",
        "maximum_current": "3000mA",
        "pps_power_limited": "1",
    },
    "spr_adjustable_voltage_supply": {
        "maximum_current_9V_to_15V": "4000mA",
        "maximum_current_15V_to_20V": "3350mA",
        "peak_current": "0",
    },
    "variable_supply": {"minimum_voltage": "9000mV", "maximum_voltage": "15000mV"},
    "battery": {"minimum_voltage": "5000mV", "maximum_power": "27000mW"},
    "augmented_supply": {},
}
PORT: dict[str, tuple[str, ...]] = {
    "data_role": ("host [device]", "[host] device", "device"),
    "power_role": ("source [sink]", "[source] sink", "sink"),
    "port_type": ("[dual] source sink",),
    "power_operation_mode": ("usb_power_delivery", "default", "1.5A", "3.0A", "9.9A"),
    "usb_power_delivery_revision": ("3.0", "0.0", "2.0", "3.1"),
    "orientation": ("normal",),
}
PARTNER = {
    "type": ("power_brick", "hub", "psd", "undefined", "not_ufp"),
    "supports_usb_power_delivery": ("yes", "no", "[yes]"),
    "accessory_mode": ("none", "analog_audio", "debug"),
    "identity/id_header": ("0x00000000", "0xffffffff"),
    "identity/product": ("0x12340000", "zzz"),
    "identity/product_type_vdo1": ("0x00000000", "0x11084852", "-1"),
}
CABLE = {
    "type": ("passive", "active", ""),
    "plug_type": ("type-c", "captive", "type-a"),
    "identity/id_header": ("0x18000000", "0x20000000"),
    "identity/product_type_vdo1": ("0x11084852", "0x000a4643", "0x" + "f" * 4000),
}
FIGURES_MV = (
    *("0mV", "0mA", "-1mV", "9V", "9000uV", "5000", "99999mV", "999999mV", "9999999mV", "", "mV"),
    *("\0", "5000mV\n5000mV", " 5000 mV ", "５０００mV", "٥٠٠٠mV", "5e3mV", "0x1388mV", "5000MV"),
)
NAMES = (
    *("my charger", "a: b", "# a", "-", "yes", "{", "é", "a\nb", "fuse-2a", "~", "null", "'", '"'),
    *(
        "",
        " ",
        "\x1b[2J",
        "\u202eabc",
        "x" * 300,
        "x" * 70_000,
        "&a",
        "*a",
        "!!int",
        "C1+C2",
        "1",
        "<<",
    ),
)
LINKS = (
    ".",
    "..",
    "../..",
    "/dev/zero",
    "/dev/null",
    "/dev/tty",
    "gone",
    "/",
    "/proc/self/mem",
    "/proc",
)


def call(draw: Draw) -> Call:
    """A tree, and the charger command that reads it."""
    files: Tree = {}
    for number in range(draw.randint(1, 3)):
        supplies(draw, files, f"class/usb_power_delivery/pd{number}")
    for number in range(draw.choice((0, 0, 1, 2))):
        port(draw, files, f"class/typec/port{number}")
    names = sorted(files)
    for name in draw.sample(names, k=min(len(names), draw.choice((0, 1, 2, 4, 12)))):
        spoil(draw, files, name)
    closed: tuple[str, ...] = ()
    if draw.random() < 0.08:
        some = draw.choice(names)
        closed = tuple(
            draw.sample([some, some.rpartition("/")[0], "class", "."], k=draw.randint(1, 2))
        )
    root = HERE
    if draw.random() < 0.02:
        root = draw.choice(
            (f"{HERE}/gone", f"{HERE}/{names[0]}", f"{HERE}/class/..", "/dev/null", "")
        )
    named = ["--name", draw.choice(NAMES)] if draw.random() < 0.3 else []
    if named and draw.random() < 0.3:
        named = ["--name", as_given(any_sign(draw).replace("\0", ""))]
    return Call(arguments=("charger", "--root", root, *named), files=files, closed=closed)


def supplies(draw: Draw, files: Tree, base: str) -> None:
    """A power delivery device with its lists."""
    files[f"{base}/revision"] = b"3.1\n"
    listed = draw.choice(
        ("source-capabilities", "source-capabilities", "source_capabilities", "sink-capabilities")
    )
    first = f"{base}/{listed}/1:fixed_supply"
    files |= {f"{first}/voltage": b"5000mV\n", f"{first}/maximum_current": b"3000mA\n"}
    most = 300 if draw.random() < 0.01 else draw.randint(1, 9)
    for position in range(2, most + 1):
        kind = draw.choice(tuple(OBJECTS))
        for key, figure in OBJECTS[kind].items():
            said = figure if draw.random() < 0.9 else draw.choice((*FIGURES_MV, *FIGURES))
            files[f"{base}/{listed}/{position}:{kind}/{key}"] = said.encode() + b"\n"


def port(draw: Draw, files: Tree, base: str) -> None:
    """A port with what is plugged in."""
    for part, entries in (("", PORT), ("-partner", PARTNER), ("-cable", CABLE)):
        if part and draw.random() < 0.2:
            continue
        for name, said in entries.items():
            files[f"{base}{part}/{name}"] = draw.choice(said).encode() + b"\n"
    device = draw.choice(("pd0", "pd1", "pd9", "gone", ".."))
    files[f"{base}-partner/usb_power_delivery"] = f">../../usb_power_delivery/{device}"


def spoil(draw: Draw, files: Tree, name: str) -> None:
    """One file made into what no kernel makes of it."""
    folder, _, file = name.rpartition("/")
    above = folder.rpartition("/")[0]
    content = files.get(name)
    text = content.decode("utf-8", "replace") if isinstance(content, bytes) else ""
    match draw.randrange(14):
        case 0:
            files.pop(name, None)
        case 1:
            files[name] = draw.choice(FIGURES_MV).encode()
        case 2:
            files[name] = draw.randbytes(draw.choice((0, 3, 4096, 4097, 50_000)))
        case 3:
            files[name] = None
        case 4:
            files[name] = f">{draw.choice((file, *LINKS))}"
        case 5:
            files[f"{folder}{draw.choice(('', 'x', chr(10), '0', ' '))}/{file}x"] = b"1"
        case 6:
            files[f"{above}/{draw.randint(0, 120)}:fixed_supply/voltage"] = b"9000mV"
        case 7:
            files[name] = draw.choice(("|", "|", "@"))
        case 8:
            # As large as it says, with nothing in it: what is read whole is read for ever.
            files[name] = draw.choice((5000, 10**9, 10**12))
        case 9:
            for key in [k for k in files if k.startswith(f"{folder}/")]:
                del files[key]
            files[folder] = draw.choice(("|", f">{draw.choice(LINKS)}", None, b"a file\n"))
        case 10:
            files[f"{above}/{as_given(any_sign(draw)) or 'x'}"] = None
        case 11:
            files[f"{above}/{'٣' if draw.random() < 0.5 else '1e1'}:fixed_supply/voltage"] = (
                b"9000mV"
            )
        case 12:
            files[f"{folder}/{'d/' * draw.choice((10, 500))}x"] = b"1"
        case _:
            files[name] = raw(draw, spoiled(draw, text or "3"))
