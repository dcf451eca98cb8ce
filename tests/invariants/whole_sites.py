"""Valid sites that between them hold every key there is, in the styles that people write."""

from sinkside import demo

# Block style, a key a line.
WORKSHOP = """\
site:
  name: Repair evening
  mains: 120 V 60 Hz
  ambient: 18..28 °C
  currency: USD
  tariff: 0.18 USD/kWh
rules:
  solder: yes
  open_cases: no
  mains_side: qualified
  changes: any
  budget: 80.00 USD
  spare_ports: blocked
  single_fault: must survive
places:
  table:
    ambient: max 30 °C
    to:
      shelf: 2 m
  shelf:
devices:
  radio:
    use: ordinary
    plate: "DC IN 9V⎓ 300mA ⊖–C–⊕"
    inlet:
      plug: 5.5x2.1
      centre: positive (measured)
      ground: negative (measured)
      conductors: 2
    inside:
      is: linear regulator
      part: "7806"
      in_front: diode (measured)
      heat_sink: small
      input_capacitor: 2200 µF 25 V (plate)
      runs_from: 7.2..7.8 V (measured)
      harmed_above: 20 V (datasheet)
      rails:
        5 V: 1.2 A (measured)
        -12 V: 0.1..0.2 A
    draws:
      steady: 180 mA (measured)
      idle: 60 mA (measured)
      peak: 0.25..0.3 A
      peak_time: 50..90 ms
    starved: loses data
    blink: brief
    ride_through: 100..200 ms (measured)
    plugged: when used
    at: table
    brick:
      plate: "OUTPUT 9V DC 500mA"
      open: 13.1 V (measured)
      loaded: 10.4 V at 180 mA (measured)
      centre: positive (measured)
      kind: dc (measured)
      original: yes
      kept: no
    held_on:
      - pair
    ran: 9.1 V at 180 mA (measured)
    words: the one with the loud hiss
  scanner:
    use: ordinary
    inlet:
      plug: usb-c
shelf:
  pair:
    is: charger
    count: 2
    at: shelf
    output_earth: floating (measured)
    class: II
    on_change: drops all (measured)
    off_time: 1.4..1.9 s (measured)
    continuous: [0.7, 0.9]
    cuts_off_below: 40..60 mA (datasheet)
    sharing: unknown
    ports:
      C1: 5V⎓3A 9V⎓3A 15V⎓3A
      C2: 5V⎓3A 9V⎓2A
    together:
      C1+C2:
        C1: 5V⎓3A 9V⎓2A
        C2: 5V⎓2A
    words: bought in spring
links:
  - from: radio
    to: scanner
    kind: data
    shield: one end
groups:
  - name: evening
    together:
      - radio
      - scanner
    switch: table strip
"""

# Flow style, quoted and over several lines, with comments; every kind of part.
STORES = """\
site: {name: 'The stores', currency: EUR}   # short
places: {room: {}}
devices:
  lamp: {use: ordinary, plate: '12V⎓ 1A', inlet: {plug: 5.5x2.5},
    inside: resistive, draws: {steady: 0.9..1 A, peak: "max 1.2 A (plate)"}, at: room}
shelf:
  solo: {is: charger, at: room, ports: {C1: 0x0001912C 0x0002D12C}}
  guessed: {is: charger, ports: {A: 65 W}}
  fuse-800ma: {count: 3}
  spare: {like: fuse-2a, count: 1, at: room}
market:
  lead-c: {is: cable, length: 0.8 m, e_marked: 5 A, ohms: 0.05..0.12 Ω, price: 7.50 EUR,
    count: 2, carries: 5 A, withstands: 21 V, at: room, words: "short, stout"}
  ask-12: {is: trigger, straps: [9 V, 12 V], falls_back: off (datasheet),
    output_switch: yes (datasheet), by: negotiation, gives: 5.5x2.1, centre: positive}
  press: {is: trigger, button: [9 V, 15 V]}
  any-volts: {is: trigger, programmable: 3.3..11 V, keeps_alive: yes (datasheet), epr: unknown}
  old-cable: {is: cable, ends: A to C}
  twins: {is: splitter}
  tail: {is: lead, plug: 5.5x2.5, centre: positive, length: 0.4 m, gauge: 22 AWG}
  tip: {is: plug, plug: 4x1.7}
  swap: {is: adapter, plug: 5.5x2.5, swaps_poles: yes}
  slow: {is: fuse, rating: 1.6 A, standard: UL 248-14, speed: quick}
  healer: {is: resettable fuse, holds: 0.9 A}
  down-12: {is: converter, direction: step-down, gives: 11.8..12.2 V, adjustable: no,
    accepts: 14..28 V, headroom: 0.5..1.5 V, efficiency: [0.86, 0.95], carries: 2 A}
  three: {is: rails, accepts: 18..30 V, rails: {a: {gives: 4.9..5.1 V, carries: 1 A}},
    efficiency: [0.75, 0.9], input_capacitance: 40..100 µF}
  gently: {is: soft start, ramp: 40..90 ms, every_step: no, accepts: 4..26 V, carries: 3 A}
  valve: {is: diode, forward: 0.3..0.6 V, carries: 2 A}
  store: {is: hold-up, farads: 0.3..0.5 F, rated: 16 V, esr: 20..60 mΩ, forward: 0.3..0.6 V,
    carries: 2 A}
  choke: {is: filter, henries: 80..120 µH, farads: 80..120 µF, carries: 2 A}
  guard: {is: crowbar, trips: 13.5..14.5 V, carries: 5 A}
  bleed: {is: bleeder, across: 0.9..1.1 kΩ}
"""

# Block style again, by another hand: wide steps, lists flush with their key, quoted words.
HALL = """\
# The hall (invented)
"site":
    name: "The hall: stage and store"
    ambient: 5..35 °C
rules:
    solder: yes
    budget: 250 EUR

places:
    stage:
        to: {store: 12 m, loft: 20 m}
    store:
        ambient: 5..15 °C
    loft:
        ambient: max 45 °C

devices:
    clock:
        use: ordinary
        plate: "INPUT: 5V⎓ 0.5A"
        inlet: {plug: micro-usb, ground: isolated (measured)}
        inside: 5 V logic
        draws:
            steady: 120 mA (measured)
            peak: 150..200 mA
        blink: never
        ride_through: 2..4 ms (measured)
        at: stage

    # what is on stage
    tuner:
        use: ordinary
        plate: "DC IN 12V⎓ 800mA ⊖–C–⊕"
        inlet:
            plug: 5.5x2.1
            centre: positive (measured)
            ground: negative (measured)
        inside:
            is: switching regulator
            runs_from: 8.5 V (datasheet)
            harmed_above: 19 V (datasheet)
            input_capacitor: 470 µF 25 V (plate)
        draws: {steady: 0.42 A (measured), peak: 0.5..0.6 A}
        brick: {open: 12.4 V (measured), loaded: 12.1 V at 420 mA (measured), original: yes}
        held_on: [wall-a, wall-b]
        at: stage
    siren:
        use: alarm
        inlet: {plug: wires}
        at: loft
    lamp:
        use: ordinary
        plate: "12V⎓ 6W"
        inlet:
            plug: 3.5x1.35
        inside: resistive
        at: store

shelf:
    wall-a:
        is: charger
        count: 1
        at: stage
        ports:
            C1: "5V⎓3A 9V⎓3A 12V⎓2.5A"
            C2: "5V⎓3A"
            A: "5V⎓2.4A"
        together:
            C1+C2:
                C1: "5V⎓3A 9V⎓2A"
                C2: "5V⎓2A"
            C1+C2+A:
                C1: "5V⎓3A"
                C2: "5V⎓1A"
                A: "5V⎓1A"
    wall-b: {is: charger, at: store, on_change: nothing (measured), ports: {C1: 45 W}}
    strap-trigger-12v:
        count: 2
        at: store
    spare-lead:
        like: lead-5.5x2.1
        count: 3

market:
    short-lead:
        is: lead
        plug: 3.5x1.35
        length: 0.3 m
        gauge: 20 AWG
        price: 3.10 EUR

links:
- from: tuner
  to: clock
  kind: data
- from: tuner
  to: lamp

groups:
- name: evening
  together:
  - tuner
  - lamp
  - clock
- name: night
  together: [clock]
  switch: "hall, left"
"""

# Steps of three, dashes with two blanks, no word that could be left out.
SHOP = """\
# Second-hand shop, everything on one shelf
site:
   name: Tin Shop
   currency: GBP
   ambient: 8..32 °C

rules:
   solder: no
   changes: any

devices:

   # the till
   till:
      use: ordinary
      plate: "24V ⎓ 1.5A"
      inlet:
         plug: 5.5x2.5
         centre: positive (measured)
      inside:
         is: switching regulator
         runs_from: 18..20 V (datasheet)
         harmed_above: 32 V (datasheet)
      draws:
         steady: 0.7 A (measured)
         peak: 1..1.4 A
         peak_time: 50..80 ms
      starved: misbehaves
      blink: never
      brick:
         open: 25.1 V (measured)
         loaded: 24.3 V at 700 mA (measured)
         original: yes

   radio-set:
      use: ordinary
      inlet: {plug: 3.5x1.35, centre: negative (plate)}
      plate: "6V 300mA"
      blink: any
      words: hums a little

   scales:
      use: ordinary
      plate: "DC 9V 100mA"
      inlet:
         plug: 5.5x2.1
      held_on:
         -  cube
         -  bar

shelf:
   cube:
      is: charger
      ports:
         C1: "5V⎓3A 9V⎓2.22A"
   bar:
      is: charger
      count: 2
      on_change: steps (measured)
      ports:
         C1: "5V⎓3A 9V⎓3A 15V⎓3A 20V⎓5A"
         C2: "5V⎓3A 9V⎓3A"
         A1: "5V⎓3A"
      together:
         C1+C2:
            C1: "5V⎓3A 9V⎓3A 15V⎓3A 20V⎓3.25A"
            C2: "5V⎓3A 9V⎓3A"
         C1+A1:
            C1: "5V⎓3A 9V⎓3A"
            A1: "5V⎓2A"

links:
   -  from: radio-set
      to: scales
      kind: audio
      shield: one end
   -  from: till
      to: scales
      kind: data

groups:
   -  name: open
      together: [till, radio-set]
   -  name: closing
      together:
         -  till
         -  scales
"""

SITES = {
    "demo": demo.text(),
    "workshop": WORKSHOP,
    "stores": STORES,
    "hall": HALL,
    "shop": SHOP,
}
