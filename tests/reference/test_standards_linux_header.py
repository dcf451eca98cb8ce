"""The codec against the Linux header `include/linux/usb/pd.h`, word by word.

The header comes from Debian's package of kernel headers, fetched when first needed and kept
under `build/`, which is not part of the sources: it is GPL, and nothing of it is copied here.
A shim of our own makes it compile outside the kernel. It knows no EPR and no AVS, so those are
checked elsewhere; its positions have three bits and its PPS voltage eleven, as in R3.0.
"""

import ctypes
import fcntl
import random
import re
import shutil
import subprocess
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from sinkside.standards.pd_contract import STANDBY_LIMIT_W
from sinkside.standards.pd_lists import SPR_LENGTH
from sinkside.standards.pd_message import (
    CHUNK_BYTES,
    CONTROL_MESSAGES,
    DATA_MESSAGES,
    ExtendedHeader,
    Header,
    encode_extended_header,
    encode_header,
)
from sinkside.standards.pd_objects import (
    BatterySink,
    BatterySource,
    FixedSink,
    FixedSource,
    PpsSink,
    PpsSource,
    Revision,
    VariableSink,
    VariableSource,
    encode,
)
from sinkside.standards.pd_requests import (
    BatteryRequest,
    FixedRequest,
    PpsRequest,
    encode_request,
)
from sinkside.standards.pd_timers import HARD_RESET_COUNT, timer

CACHE = Path(__file__).parents[2] / "build" / "linux-pd-header"
CASES = 4000

# What the header expects of the kernel around it, in our own words.
KERNEL_SHIM = """
#include <stdint.h>
#include <stdbool.h>
typedef uint8_t u8; typedef uint16_t u16; typedef uint32_t u32;
typedef uint16_t __le16; typedef uint32_t __le32;
#define BIT(n) (1u << (n))
#define GENMASK(h, l) ((~0u >> (31 - (h))) & (~0u << (l)))
#define IS_ENABLED(option) 0
#define __packed __attribute__((packed))
#define le16_to_cpu(x) (x)
#define cpu_to_le16(x) (x)
#define le32_to_cpu(x) (x)
enum typec_role { TYPEC_SINK, TYPEC_SOURCE };
enum typec_data_role { TYPEC_DEVICE, TYPEC_HOST };
"""

PROBE = """
#include <linux/usb/pd.h>
u32 fixed(u32 mv, u32 ma, u32 flags) { return PDO_FIXED(mv, ma, flags); }
u32 variable(u32 low, u32 high, u32 ma) { return PDO_VAR(low, high, ma); }
u32 battery(u32 low, u32 high, u32 mw) { return PDO_BATT(low, high, mw); }
u32 pps(u32 low, u32 high, u32 ma) { return PDO_PPS_APDO(low, high, ma); }
u32 ask_fixed(u32 at, u32 op, u32 most, u32 flags) { return RDO_FIXED(at, op, most, flags); }
u32 ask_battery(u32 at, u32 op, u32 most, u32 flags) { return RDO_BATT(at, op, most, flags); }
u32 ask_pps(u32 at, u32 mv, u32 ma, u32 flags) { return RDO_PROG(at, mv, ma, flags); }
u32 head(u32 type, u32 power, u32 data, u32 rev, u32 id, u32 count) {
    return PD_HEADER(type, power, data, rev, id, count, 0);
}
u32 extended(u32 size, u32 ask, u32 number, u32 chunked) {
    return PD_EXT_HDR(size, ask, number, chunked);
}
u32 peak(u32 code) { return code << PDO_FIXED_PEAK_CURR_SHIFT; }
u32 swap(u32 code) { return code << PDO_FIXED_FRS_CURR_SHIFT; }
"""
# Constants of the header, by the header's names; functions of the probe look them up by place.
FLAGS = {
    "dual_role_power": "PDO_FIXED_DUAL_ROLE",
    "usb_suspend": "PDO_FIXED_SUSPEND",
    "unconstrained": "PDO_FIXED_EXTPOWER",
    "usb_communications_object": "PDO_FIXED_USB_COMM",
    "dual_role_data": "PDO_FIXED_DATA_SWAP",
    "unchunked": "PDO_FIXED_UNCHUNK_EXT",
    "higher_capability": "PDO_FIXED_HIGHER_CAP",
    "give_back": "RDO_GIVE_BACK",
    "capability_mismatch": "RDO_CAP_MISMATCH",
    "usb_communications_request": "RDO_USB_COMM",
    "no_usb_suspend": "RDO_NO_SUSPEND",
}
# What the kernel waits, in ms, against our limits; it relaxes tSenderResponse, left out here.
WAITS = [
    ("tNoResponse", "", "PD_T_NO_RESPONSE"),
    ("tTypeCSendSourceCap", "", "PD_T_SEND_SOURCE_CAP"),
    ("tTypeCSinkWaitCap", "", "PD_T_SINK_WAIT_CAP"),
    ("tReceiverResponse", "", "PD_T_RECEIVER_RESPONSE"),
    ("tSinkRequest", "", "PD_T_SINK_REQUEST"),
    ("tSrcTransition", "", "PD_T_SRC_TRANSITION"),
    ("tPSTransition", "SPR", "PD_T_PS_TRANSITION"),
    ("tPSHardReset", "", "PD_T_PS_HARD_RESET"),
    ("tSafe0V", "", "PD_T_SAFE_0V"),
    ("tSrcRecover", "SPR", "PD_T_SRC_RECOVER"),
    ("tSrcRecover", "SPR", "PD_T_SRC_RECOVER_MAX"),
    ("tSrcTurnOn", "", "PD_T_SRC_TURN_ON"),
    ("tErrorRecovery", "", "PD_T_ERROR_RECOVERY"),
    ("tCCDebounce", "", "PD_T_CC_DEBOUNCE"),
    ("tPDDebounce", "", "PD_T_PD_DEBOUNCE"),
]
# Where the kernel takes the limit itself, it is that limit and no other.
LIMITS_S = {
    "PD_T_RECEIVER_RESPONSE": timer("tReceiverResponse").max_s,
    "PD_T_SINK_REQUEST": timer("tSinkRequest").min_s,
    "PD_T_SINK_WAIT_CAP": timer("tTypeCSinkWaitCap").min_s,
    "PD_T_SRC_TRANSITION": timer("tSrcTransition").max_s,
    "PD_T_SAFE_0V": timer("tSafe0V").max_s,
    "PD_T_SRC_RECOVER_MAX": timer("tSrcRecover", "SPR").max_s,
    "PD_T_SRC_TURN_ON": timer("tSrcTurnOn").max_s,
    "PD_T_CC_DEBOUNCE": timer("tCCDebounce").max_s,
    "PD_T_PD_DEBOUNCE": timer("tPDDebounce").max_s,
}
MESSAGES: list[tuple[Mapping[int, str], str, str]] = [
    (CONTROL_MESSAGES, "GoodCRC", "PD_CTRL_GOOD_CRC"),
    (CONTROL_MESSAGES, "GotoMin", "PD_CTRL_GOTO_MIN"),
    (CONTROL_MESSAGES, "Accept", "PD_CTRL_ACCEPT"),
    (CONTROL_MESSAGES, "Reject", "PD_CTRL_REJECT"),
    (CONTROL_MESSAGES, "PS_RDY", "PD_CTRL_PS_RDY"),
    (CONTROL_MESSAGES, "Get_Source_Cap", "PD_CTRL_GET_SOURCE_CAP"),
    (CONTROL_MESSAGES, "Get_Sink_Cap", "PD_CTRL_GET_SINK_CAP"),
    (CONTROL_MESSAGES, "Wait", "PD_CTRL_WAIT"),
    (CONTROL_MESSAGES, "Soft_Reset", "PD_CTRL_SOFT_RESET"),
    (CONTROL_MESSAGES, "Not_Supported", "PD_CTRL_NOT_SUPP"),
    (DATA_MESSAGES, "Source_Capabilities", "PD_DATA_SOURCE_CAP"),
    (DATA_MESSAGES, "Request", "PD_DATA_REQUEST"),
    (DATA_MESSAGES, "Sink_Capabilities", "PD_DATA_SINK_CAP"),
    (DATA_MESSAGES, "Alert", "PD_DATA_ALERT"),
    (DATA_MESSAGES, "Vendor_Defined", "PD_DATA_VENDOR_DEF"),
]
FIGURES = [
    (SPR_LENGTH, "PDO_MAX_OBJECTS"),
    (CHUNK_BYTES, "PD_EXT_MAX_CHUNK_DATA"),
    (HARD_RESET_COUNT, "PD_N_HARD_RESET_COUNT"),
    (int(STANDBY_LIMIT_W * 1000), "PD_P_SNK_STDBY_MW"),
]
NAMES = [
    *FLAGS.values(),
    *(name for _, _, name in WAITS),
    *(name for _, _, name in MESSAGES),
    *(name for _, name in FIGURES),
]


def run(command: list[str], folder: Path, why: str) -> str:
    """Run a tool; say clearly what is missing if it does not work."""
    if shutil.which(command[0]) is None:
        pytest.fail(f"{why}: {command[0]} is not installed", pytrace=False)
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=300)
    if done.returncode:
        pytest.fail(f"{why}: {' '.join(command)} failed:\n{done.stderr}", pytrace=False)
    return str(done.stdout)


def newest_package(listing: str) -> str:
    """The newest of the packages of common kernel headers, by the numbers in its name."""
    names: list[str] = re.findall(r"^(linux-headers-\d\S*-common)\b", listing, flags=re.MULTILINE)
    if not names:
        pytest.fail(
            "the Linux header is not to be had: the package lists know no "
            "linux-headers-*-common; run `apt-get update` first",
            pytrace=False,
        )
    return max(names, key=lambda name: [int(figures) for figures in re.findall(r"\d+", name)])


def fetched_header() -> Path:
    """The header, fetched at most once, also with several workers at a time."""
    header = CACHE / "pd.h"
    CACHE.mkdir(parents=True, exist_ok=True)
    with (CACHE / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if header.exists():
            return header
        why = "the Linux header is not to be had"
        with tempfile.TemporaryDirectory(dir=CACHE) as name:
            folder = Path(name)
            search = ["apt-cache", "search", "--names-only", r"^linux-headers-[0-9].*-common$"]
            package = newest_package(run(search, folder, why))
            run(["apt-get", "-o", "APT::Sandbox::User=root", "download", package], folder, why)
            (archive,) = folder.glob("*.deb")
            run(["dpkg", "-x", str(archive), "out"], folder, why)
            found = sorted(folder.glob("out/usr/src/*/include/linux/usb/pd.h"))
            if not found:
                pytest.fail(f"{why}: {package} has no include/linux/usb/pd.h", pytrace=False)
            shutil.copy(found[0], folder / "pd.h")
            (folder / "pd.h").replace(header)
    return header


@pytest.fixture(scope="session")
def linux(tmp_path_factory: pytest.TempPathFactory) -> ctypes.CDLL:
    """The header's macros, compiled into functions."""
    header = fetched_header()
    folder = tmp_path_factory.mktemp("linux-pd")
    usb = folder / "linux" / "usb"
    usb.mkdir(parents=True)
    shutil.copy(header, usb / "pd.h")
    (folder / "linux" / "kernel.h").write_text(KERNEL_SHIM)
    (folder / "linux" / "types.h").write_text("")
    (usb / "typec.h").write_text("")
    places = f"u32 named(u32 at) {{ u32 all[] = {{{', '.join(NAMES)}}}; return all[at]; }}\n"
    (folder / "probe.c").write_text(PROBE + places)
    why = "the Linux header does not compile"
    run(["gcc", "-shared", "-fPIC", "-O1", "-I.", "probe.c", "-o", "probe.so"], folder, why)
    library = ctypes.CDLL(str(folder / "probe.so"))
    for name in re.findall(r"^u32 (\w+)\(", PROBE + places, flags=re.MULTILINE):
        getattr(library, name).restype = ctypes.c_uint32
    return library


@pytest.fixture
def draw() -> Callable[[int, int], int]:
    """A whole multiple of a step that fits so many bits; always the same sequence."""
    chance = random.Random(20)
    return lambda step, bits: chance.randrange(2**bits) * step


def value(linux: ctypes.CDLL, name: str) -> int:
    """A constant of the header."""
    return int(linux.named(NAMES.index(name)))


def flags_word(linux: ctypes.CDLL, **chosen: bool) -> int:
    """The bits of the flags that are true."""
    return sum(value(linux, FLAGS[name]) for name, is_set in chosen.items() if is_set)


def test_fixed_sources(linux: ctypes.CDLL, draw: Callable[[int, int], int]) -> None:
    for _ in range(CASES):
        mv, ma, peak = draw(50, 10), draw(10, 10), draw(1, 2)
        role, suspend, power, usb, data, unchunked = (bool(draw(1, 1)) for _ in range(6))
        flags = flags_word(
            linux,
            dual_role_power=role,
            usb_suspend=suspend,
            unconstrained=power,
            usb_communications_object=usb,
            dual_role_data=data,
            unchunked=unchunked,
        )
        ours = FixedSource(
            voltage_mv=mv,
            current_ma=ma,
            peak_current=peak,
            dual_role_power=role,
            usb_suspend=suspend,
            unconstrained=power,
            usb_communications=usb,
            dual_role_data=data,
            unchunked=unchunked,
        )
        assert encode(ours, Revision.R3_0) == linux.fixed(mv, ma, flags | linux.peak(peak))


def test_fixed_sinks(linux: ctypes.CDLL, draw: Callable[[int, int], int]) -> None:
    for _ in range(CASES):
        mv, ma, swap = draw(50, 10), draw(10, 10), draw(1, 2)
        role, higher, power, usb, data = (bool(draw(1, 1)) for _ in range(5))
        flags = flags_word(
            linux,
            dual_role_power=role,
            higher_capability=higher,
            unconstrained=power,
            usb_communications_object=usb,
            dual_role_data=data,
        )
        ours = FixedSink(
            voltage_mv=mv,
            operating_current_ma=ma,
            fast_role_swap=swap,
            dual_role_power=role,
            higher_capability=higher,
            unconstrained=power,
            usb_communications=usb,
            dual_role_data=data,
        )
        assert encode(ours, Revision.R3_0) == linux.fixed(mv, ma, flags | linux.swap(swap))


def test_variable_and_battery(linux: ctypes.CDLL, draw: Callable[[int, int], int]) -> None:
    for _ in range(CASES):
        low, high, ma, mw = draw(50, 10), draw(50, 10), draw(10, 10), draw(250, 10)
        variable = linux.variable(low, high, ma)
        source = VariableSource(minimum_mv=low, maximum_mv=high, current_ma=ma)
        sink = VariableSink(minimum_mv=low, maximum_mv=high, operating_current_ma=ma)
        assert encode(source, Revision.R3_0) == encode(sink, Revision.R3_0) == variable
        battery = linux.battery(low, high, mw)
        stored = BatterySource(minimum_mv=low, maximum_mv=high, power_mw=mw)
        wanted = BatterySink(minimum_mv=low, maximum_mv=high, operating_power_mw=mw)
        assert encode(stored, Revision.R3_0) == encode(wanted, Revision.R3_0) == battery


def test_programmable(linux: ctypes.CDLL, draw: Callable[[int, int], int]) -> None:
    for _ in range(CASES):
        low, high, ma = draw(100, 8), draw(100, 8), draw(50, 7)
        word = linux.pps(low, high, ma)
        source = PpsSource(minimum_mv=low, maximum_mv=high, current_ma=ma)
        sink = PpsSink(minimum_mv=low, maximum_mv=high, current_ma=ma)
        assert encode(source, Revision.R3_0) == encode(sink, Revision.R3_0) == word


def test_requests(linux: ctypes.CDLL, draw: Callable[[int, int], int]) -> None:
    for _ in range(CASES):
        at = draw(1, 3)
        back, mismatch, usb, awake = (bool(draw(1, 1)) for _ in range(4))
        common = flags_word(
            linux,
            capability_mismatch=mismatch,
            usb_communications_request=usb,
            no_usb_suspend=awake,
        )
        flags = common | flags_word(linux, give_back=back)
        op_ma, most_ma, op_mw, most_mw = draw(10, 10), draw(10, 10), draw(250, 10), draw(250, 10)
        fixed = FixedRequest(
            position=at,
            operating_current_ma=op_ma,
            limit_current_ma=most_ma,
            give_back=back,
            capability_mismatch=mismatch,
            usb_communications=usb,
            no_usb_suspend=awake,
        )
        assert encode_request(fixed, Revision.R3_0) == linux.ask_fixed(at, op_ma, most_ma, flags)
        battery = BatteryRequest(
            position=at,
            operating_power_mw=op_mw,
            limit_power_mw=most_mw,
            give_back=back,
            capability_mismatch=mismatch,
            usb_communications=usb,
            no_usb_suspend=awake,
        )
        assert encode_request(battery, Revision.R3_0) == linux.ask_battery(
            at, op_mw, most_mw, flags
        )
        mv, ma = draw(20, 11), draw(50, 7)
        pps = PpsRequest(
            position=at,
            voltage_mv=mv,
            current_ma=ma,
            capability_mismatch=mismatch,
            usb_communications=usb,
            no_usb_suspend=awake,
        )
        assert encode_request(pps, Revision.R3_0) == linux.ask_pps(at, mv, ma, common)


def test_headers(linux: ctypes.CDLL, draw: Callable[[int, int], int]) -> None:
    for _ in range(CASES):
        kind, revision, number, count = draw(1, 5), draw(1, 2), draw(1, 3), draw(1, 3)
        source, dfp = bool(draw(1, 1)), bool(draw(1, 1))
        ours = Header(
            message_type=kind,
            dfp=dfp,
            specification_revision=revision,
            source=source,
            message_id=number,
            data_objects=count,
        )
        assert encode_header(ours) == linux.head(kind, source, dfp, revision, number, count)


def test_extended_headers(linux: ctypes.CDLL, draw: Callable[[int, int], int]) -> None:
    for _ in range(CASES):
        size, number = draw(1, 9), draw(1, 4)
        ask, chunked = bool(draw(1, 1)), bool(draw(1, 1))
        ours = ExtendedHeader(
            data_size=size, request_chunk=ask, chunk_number=number, chunked=chunked
        )
        assert encode_extended_header(ours) == linux.extended(size, ask, number, chunked)


@pytest.mark.parametrize(("name", "scope", "wait"), WAITS)
def test_the_kernel_waits_within_our_limits(
    linux: ctypes.CDLL, name: str, scope: str, wait: str
) -> None:
    waits_s = value(linux, wait) / 1000
    limits = timer(name, scope)
    assert (limits.min_s or 0.0) <= waits_s <= (limits.max_s or float("inf"))
    if wait in LIMITS_S:
        assert waits_s == LIMITS_S[wait]


@pytest.mark.parametrize(("names", "ours", "theirs"), MESSAGES)
def test_message_types(
    linux: ctypes.CDLL, names: Mapping[int, str], ours: str, theirs: str
) -> None:
    assert names[value(linux, theirs)] == ours


@pytest.mark.parametrize(("ours", "theirs"), FIGURES)
def test_figures(linux: ctypes.CDLL, ours: int, theirs: str) -> None:
    assert value(linux, theirs) == ours
