"""Trees of a host for tests, as the kernel lays them out.

Layout and spellings: Linux sysfs ABI documents `usb_power_delivery` and `typec`, and the class
driver (read).
"""

from collections.abc import Mapping
from pathlib import Path

PD = "class/usb_power_delivery"
TYPEC = "class/typec"

Listed = Mapping[float, float]


def plant_list(root: Path, volts_and_amps: Listed, device: str = "pd1") -> Path:
    """A source's list of fixed objects."""
    listed = root / PD / device / "source-capabilities"
    for i, (volts, amps) in enumerate(volts_and_amps.items()):
        put(
            listed / f"{i + 1}:fixed_supply",
            voltage=f"{round(volts * 1000)}mV",
            maximum_current=f"{round(amps * 1000)}mA",
        )
    put(listed.parent, revision="3.0")
    return listed


def plant_port(root: Path, name: str = "port0", **files: str) -> Path:
    """A port of a sink under a contract, unless said otherwise."""
    said = {
        "power_operation_mode": "usb_power_delivery",
        "power_role": "source [sink]",
        "data_role": "host [device]",
        "usb_power_delivery_revision": "3.0",
    }
    return put(root / TYPEC / name, **(said | files))


def plant_partner(
    root: Path, port: str = "port0", device: str = "", header: str = "", **files: str
) -> Path:
    """What is plugged in, with a link to its list if a device is named."""
    said = {"accessory_mode": "none", "supports_usb_power_delivery": "yes" if device else "no"}
    folder = put(root / TYPEC / f"{port}-partner", **(said | files))
    if device:
        (folder / "usb_power_delivery").symlink_to(f"../../usb_power_delivery/{device}")
    if header:
        put(folder / "identity", id_header=header)
    return folder


def plant_lead(
    root: Path,
    word: int = 0,
    port: str = "port0",
    header: int = 0x1800_0000,
    plugs: int = 1,
    **files: str,
) -> Path:
    """A marked lead with the first product type word of its mark; 0 while it is not known."""
    folder = put(root / TYPEC / f"{port}-cable", **files)
    put(
        folder / "identity",
        id_header=f"0x{header:08x}",
        cert_stat="0x00000000",
        product="0x00000000",
        product_type_vdo1=f"0x{word:08x}",
        product_type_vdo2="0x00000000",
        product_type_vdo3="0x00000000",
    )
    for end in range(plugs):
        put(root / TYPEC / f"{port}-plug{end}", number_of_alternate_modes="0")
    return folder


def put(folder: Path, **files: str) -> Path:
    """A folder with files of one line each."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in files.items():
        (folder / name).write_text(f"{text}\n", encoding="utf-8")
    return folder
