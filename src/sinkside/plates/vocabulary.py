"""The words of rating plates in many languages.

The lists are common practice, no source: words seen on plates of the trade. A word is compared
without case and accents, so `Entrée`, `ENTREE` and `entrée` are one word. A phrase is several words
with a space. Chinese, Japanese and Korean are written without spaces and are looked up by the
longest match. Where two kinds claim a word, the first keeps it.
"""

# Kind of word: language or field to words, separated by commas.
WORDS: dict[str, dict[str, str]] = {
    "INPUT": {
        "en": "input, inputs, i/p, inp, primary, pri, prim, vin, power in, power input",
        "de": "eingang, eing, primär",
        "fr": "entrée, entrées, primaire",
        "es pt": "entrada, entradas, primario, primário",
        "it": "ingresso, entrata, primario",
        "nl": "ingang, primair, invoer",
        "pl": "wejście, wejscia, pierwotne",
        "cs sk": "vstup, vstupy, příkon",
        "sv da no": "ingång, indgang, inngang, ineffekt",
        "fi et": "tulo, sisääntulo, otto, syöttö, sisend",
        "ru uk": "вход, входы, вх, вхід, първичен, первичная",
        "hu ro tr el": "bemenet, intrare, giriş, είσοδος",
        "hr sl ca lt lv": "ulaz, vhod, įėjimas, ieeja, inntak",
        "vi id": "đầu vào, masukan",
        "he ar": "כניסה, מבוא, الدخل, دخل, مدخل, المدخل, إدخال",
        "zh ja ko": "输入, 輸入, 入力, 입력, 입력전원, 一次",
    },
    "OUTPUT": {
        "en": "output, outputs, o/p, outp, secondary, sec, vout, power out, power output",
        "de": "ausgang, ausg, sekundär, sek, abgabe",
        "fr": "sortie, sorties, secondaire",
        "es pt": "salida, salidas, saída, saídas, secundario, secundário",
        "it": "uscita, uscite, secondario",
        "nl": "uitgang, secundair, uitvoer",
        "pl": "wyjście, wyjścia, wtórne",
        "cs sk": "výstup, výstupy",
        "sv da no": "utgång, udgang, utgang, uteffekt",
        "fi et": "lähtö, ulostulo, anto, väljund",
        "ru uk": "выход, выходы, вых, вихід, вторичная",
        "hu ro tr el": "kimenet, ieșire, çıkış, έξοδος",
        "hr sl bg ca lt lv": "izlaz, izhod, изход, изходи, sortida, išėjimas, izeja, úttak",
        "vi id": "đầu ra, keluaran",
        "he ar": "יציאה, מוצא, الخرج, خرج, مخرج, المخرج, إخراج",
        "zh ja ko": "输出, 輸出, 出力, 출력, 二次",
    },
    # Words that are also ordinary words: labels only where their neighbours say so.
    "INPUT_WEAK": {"all": "in"},
    "OUTPUT_WEAK": {"all": "out, ut, ud, uit"},
    # The supply of a device; also the name of a brick, so a label only before a colon.
    "INPUT_COLON": {
        "all": "alimentation, alimentazione, alimentación, alimentação, versorgung, zasilanie, "
        "napájení, voeding, питание, strömförsörjning, strømforsyning, supply voltage, "
        "power requirement, power requirements, power source, живлення, 電源, 电源, 전원, "
        "захранване, napajanje, tápellátás, "
        "spannungsversorgung, stromversorgung, mains, "
        "netz, netzspannung, netzanschluss",
    },
    "DC": {
        "en": "dc, direct current, dc current, dc power",
        "de": "gleichstrom, gleichspannung",
        "fr": "courant continu, tension continue",
        "es pt": "corriente continua, corriente directa, corrente contínua, contínua, continua",
        "it": "corrente continua, tensione continua",
        "nl": "gelijkstroom, gelijkspanning",
        "pl": "prąd stały, stały, stałe",
        "cs sk": "stejnosměrný, stejnosměrné, stejnosměrně, jednosmerný, jednosmerné",
        "sv da no": "likström, likspänning, jævnstrøm, jævnspænding, likestrøm, likespenning",
        "fi": "tasavirta, tasajännite, tasavirtaa",
        "ru uk": "постоянный ток, постоянного тока, постоянный, пост, пост ток, постійний",
        "hu tr": "egyenáram, egyenfeszültség, doğru akım",
        "zh ja ko": "直流, 직류",
    },
    "AC": {
        "en": "ac, alternating current, ac power, ac mains, ac line",
        "de": "wechselstrom, wechselspannung",
        "fr": "courant alternatif, alternatif",
        "es pt": "corriente alterna, alterna, corrente alternada, alternada",
        "it": "corrente alternata, alternata",
        "nl": "wisselstroom, wisselspanning",
        "pl": "prąd przemienny, przemienny, przemienne, zmienny",
        "cs sk": "střídavý, střídavé, střídavě, striedavý, striedavé",
        "sv da no": "växelström, växelspänning, vekselstrøm, vekselspænding, vekselspenning",
        "fi": "vaihtovirta, vaihtojännite, vaihtovirtaa",
        "ru uk": "переменный ток, переменного тока, переменный, перем, перем ток, змінний",
        "hu tr": "váltóáram, váltakozó, alternatif akım",
        "zh ja ko": "交流, 교류",
    },
    "BOTH": {"all": "ac/dc, dc/ac, ac dc, ac or dc, dc or ac, allstrom, 交直流"},
    # Abbreviations that mean a kind of current only beside a voltage or a label.
    "DC_WEAK": {"es it fr pt cs de": "cc, cd, ss, gs"},
    "AC_WEAK": {"es it fr pt cs de": "ca, st, stř, ws"},
    # "AC adapter" names a brick for the mains, whatever comes out of it.
    "ADAPTER": {
        "en": "ac adapter, ac adaptor, ac power adapter, ac power adaptor, ac/dc adapter, "
        "ac/dc adaptor, ac dc adapter, ac dc adaptor, ac charger, ac power supply, "
        "ac/dc power supply, ac dc power supply, ac/dc switching adapter, "
        "ac/dc switching power supply, ac/ac adapter, ac/ac adaptor, ac/dc converter, "
        "ac dc converter, ac/dc charger, ac/dc adapter charger",
        "ja ko": "ac アダプター, ac アダプタ, ac 어댑터, ac 아답터",
    },
    "DC_ADAPTER": {
        "en": "dc adapter, dc adaptor, dc power adapter, dc power supply, dc charger, dc jack, "
        "dc plug, dc power jack, dc cable, dc dc converter, dc/dc converter",
    },
    "CENTRE": {
        "en": "centre, center, central, middle, inner, inside, tip, core, centre pin, center pin, "
        "inner pin, pin, ctr",
        "de": "mitte, mittelkontakt, mittelstift, mittelpol, innen, innenleiter, innenkontakt, "
        "innenstift, innenpol, stift, seele, zentrum",
        "fr": "intérieur, interne, broche centrale, pointe, centrale",
        "es pt": "centro, interior, interno, interna, punta, ponta, dentro, pino central",
        "it": "centro, interno, centrale, punta",
        "nl": "midden, middelste, binnen, binnenkant, binnenste, binnenzijde, binnenin, kern, "
        "centrum",
        "pl": "środek, środku, środkowy, wewnątrz, wewnętrzny, centralny, bolec",
        "cs sk": "střed, středu, střední, uvnitř, uprostřed, vnitřní, stred, kolík, vnútri",
        "sv da no": "mitten, mitt, mittstift, mittpol, inre, insida, invändigt, midten, midt, "
        "inderst, indre, indvendig, inni, senter, midterstift",
        "fi": "keskellä, keskinapa, keskus, keskitappi, sisä, sisänapa, sisällä, keski",
        "ru uk": "центр, центре, центральный, центральном, внутри, внутренний, штырь, жила",
        "zh ja ko": "中心, 内, 內, 芯, 内芯, 内部, 中間, 内侧, 內側, 内側, センター, センタ, "
        "센터, 중심, 중앙, 안쪽, 내측, 내부, 가운데",
    },
    "SLEEVE": {
        "en": "sleeve, outer, outside, barrel, shell, shield, ring, external",
        "de": "außen, aussen, außenleiter, außenkontakt, außenring, hülse, mantel, außenpol",
        "fr": "extérieur, externe, corps, bague, manchon",
        "es pt": "exterior, externo, externa, fuera, fora, casquillo",
        "it": "esterno, esterna, manicotto",
        "nl": "buiten, buitenkant, buitenste, buitenzijde, mantel",
        "pl": "zewnątrz, zewnętrzny, tuleja, obudowa wtyku",
        "cs sk": "vně, vnější, venku, plášť, vonkajší, obal",
        "sv da no": "yttre, utsida, utvändigt, hylsa, yderst, ydre, udvendig, ytre, hylse, ytterst",
        "fi": "ulko, ulkonapa, ulkona, ulkokuori, holkki",
        "ru uk": "снаружи, внешний, наружный, корпус, гильза",
        "zh ja ko": "外, 外部, 外側, 外侧, 外圈, 外壳, 外殻, 外周, スリーブ, 슬리브, 바깥쪽, "
        "바깥, 외측, 외부",
    },
    "POSITIVE": {
        "en": "positive, pos, plus, +ve",
        "de": "positiv, plus, pluspol",
        "fr": "positif, positive, plus",
        "es pt": "positivo, positiva, más, mais",
        "it": "positivo, positiva, più",
        "nl": "positief, plus, pluspool",
        "pl": "dodatni, dodatnia, dodatnie, plus",
        "cs sk": "kladný, kladná, plus",
        "sv da no": "positiv, positivt, plus, pluss",
        "fi": "positiivinen, plus, plusnapa",
        "ru uk": "плюс, положительный, положит, плюсовой",
        "zh ja ko": "正, 正极, 正極, 阳极, プラス, 陽極, 플러스, 양극, 양",
    },
    "NEGATIVE": {
        "en": "negative, neg, minus, -ve",
        "de": "negativ, minus, minuspol",
        "fr": "négatif, négative, moins",
        "es pt": "negativo, negativa, menos",
        "it": "negativo, negativa, meno",
        "nl": "negatief, min, minpool",
        "pl": "ujemny, ujemna, ujemne, minus",
        "cs sk": "záporný, záporná, minus, mínus",
        "sv da no": "negativ, negativt, minus",
        "fi": "negatiivinen, miinus, miinusnapa",
        "ru uk": "минус, отрицательный, отрицат, минусовой",
        "zh ja ko": "负, 負, 负极, 負極, 阴极, マイナス, 陰極, 마이너스, 음극, 음",
    },
    # A pole that is ground says nothing about the centre contact.
    "GROUND": {
        "en": "ground, earth, gnd, grounded, chassis, ground system, earthed",
        "de fr es it": "masse, erde, erdung, terre, tierra, terra, massa, masa",
    },
    # Words that may stand between a contact and its sign.
    "FILLER": {
        "en": "is, at, on, the, of, contact, conductor, pole, terminal, polarity, electrode, "
        "ve, wire, plug, connector, jack",
        "de nl": "ist, am, im, der, die, das, auf, an, liegt, de, het, aan, kontakt, "
        "pol, leiter, polarität, stecker, polariteit",
        "fr": "au, à, a l, sur, le, la, est, l, du, pôle, polarité, contact, fiche",
        "es pt it": "al, el, en, sul, en el, es, no, na, polo, polarità, polaridad, "
        "polaridade, contatto, contacto, all, nel",
        "pl cs": "w, na, ve, je, jest, styk, biegun, polaryzacja, polarita, pól",
        "sv da no fi": "i, på, är, er, polaritet, napa, napaisuus",
        "ru": "в, на, контакт, контакте, полюс, полярность",
        "zh ja ko": "极, 極, 极性, 極性, 端子, 极柱, 为, 為, は, が, ピン, 핀, 극, "
        "극성, 针, 孔, 侧",
    },
    "MAX": {
        "all": "max, maximum, maximal, maximale, maximal, maxi, máx, máximo, máxima, massimo, "
        "massima, maks, maksimum, maksimi, maksymalnie, макс, максимум, максимальный, maxim, "
        "最大, 最高, 최대, MAX., up to, jusqu'à, bis zu",
    },
    "PEAK": {
        "en": "peak, pk, surge, peak current, ipk, ipeak, imax peak, pulse, momentary, burst",
        "de": "spitze, spitzenstrom, spitzen, spitz, kurzzeitig, impuls",
        "fr es it pt": "crête, crete, pic, pico, picco, pointe max, de crête, pulso, di picco",
        "nl pl cs": "piek, piekstroom, szczyt, szczytowy, szczytowo, špička, špičkový, špičkově",
        "sv da no fi": "topp, toppström, spids, spidsstrøm, toppstrøm, huippu, huippuvirta",
        "ru": "пик, пиковый, пиково, импульсный",
        "zh ja ko": "峰值, 尖峰, 瞬间, 瞬間, 瞬时, ピーク, 瞬時, 피크, 순간, 순간최대",
    },
    # What stands with such a word is no rating.
    "ASIDE": {
        "all": "inrush, inrush current, einschaltstrom, leakage, leakage current, standby, "
        "stand by, no load, no-load, ripple, minimum, min load, min current, minimum load, "
        "threshold, trip, cut off, cutoff, isolation, hi pot, hipot, dielectric, withstand, "
        "test voltage, open circuit, leerlauf, open voltage, ripple noise, 待机, 空载, 空載",
    },
    "TOTAL": {
        "en": "total, combined, totals, sum, altogether, overall, shared total",
        "de": "gesamt, gesamtleistung, insgesamt, zusammen, summe, gesamtausgangsleistung",
        "fr es it pt": "totale, totaux, totales, complessiva, complessivo, combinée, combinada, "
        "au total, puissance totale, potencia total, potenza totale, potência total",
        "nl pl cs": "totaal, łącznie, razem, łączna, całkowita, suma, celkem, celkový, celkově",
        "sv da no fi": "totalt, sammanlagt, tilsammen, samlet, yhteensä, kokonaisteho",
        "ru": "суммарно, суммарная, всего, итого, общая, общий, общее",
        "zh ja ko": "总, 總, 总计, 總計, 总功率, 總功率, 合计, 合計, 総, 総合, "
        "총, 합계, 합산, 총합",
    },
    "EACH": {
        "all": "each, per port, each port, per output, je, pro port, je port, chacun, cada, "
        "cada puerto, ciascuno, per porta, na port, per poort, vardera, каждый, 每个, 각각, 各",
    },
    "PPS": {"all": "pps"},
    "AVS": {"all": "avs"},
    "USB": {
        "all": "usb, pd, pdo, apdo, fixed pdo, power delivery, usb pd, usb power delivery, "
        "spr, epr, ufcs, bc",
    },
    "OR": {
        "all": "or, oder, ou, o, of, lub, nebo, alebo, eller, tai, или, або, veya, vagy, sau, "
        "或, 或者, または, 又は, もしくは, 또는, 혹은, bzw",
    },
    "AND": {"all": "and, und, et, y, och, og, ja, oraz, и, 和, 及, と, および, 및, with, plus"},
    "TO": {
        "all": "to, bis, à, a, do, til, till, tot, до, thru, through, jusqu'à, hasta, até, fino, "
        "fino a, 至, 到, から, ~, från",
    },
    # What follows is a code, a number or a date of the maker.
    "CODE": {
        "en": "model, mod, model no, model number, mdl, type, typ, p/n, s/n, pn, sn, part no, "
        "part number, part, serial, serial no, serial number, ser no, item, item no, no, nr, "
        "ref, art, art no, sku, lot, lot no, batch, code, date code, date, d/c, rev, ver, "
        "version, fcc id, fcc, file no, cat no, cat, id, ic, ean, upc, patent, pat, pat no, "
        "dop, mfg, mfg date, mfr, year, product, product no, order no, article, article no, "
        "contract, cert, cert no, reg no, asin, style, form, class, cl, level, grade, "
        "efficiency level, efficiency, zone, phase",
        "de nl": "modell, typ nr, artikel, artikelnr, artikelnummer, seriennummer, serie, "
        "bestellnr, bestell nr, baujahr, chargen nr, typenummer, serienummer, klasse",
        "fr es it pt": "modèle, modelo, modello, réf, référence, référencia, numéro, n°, codice, "
        "tipo, número, serie n, série, num, matr, matricola, código",
        "pl cs": "model nr, typ nr, numer, nr seryjny, výrobní číslo, číslo, vyrobni cislo",
        "sv da no fi": "art nr, varenr, serienr, tuote, tuotenro, malli",
        "ru": "модель, тип, арт, артикул, серия, зав, №, номер, дата, гост, ту",
        "zh ja ko": "型号, 型號, 型番, 型式, 品名, 品番, 料号, 编号, 序列号, 序號, 製造番号, 製番, "
        "모델, 모델명, 품번, 제조번호, 日期, 制造日期, 生产日期, 標準, 标准, 规格, 規格",
    },
    "FUSE": {
        "all": "fuse, fuses, fused, fuse rating, sicherung, sicherungen, fusible, fusibile, "
        "zekering, bezpiecznik, pojistka, säkring, sikring, sulake, предохранитель, 保险丝, "
        "保險絲, ヒューズ, 퓨즈, bs 1362",
    },
    "CELL": {
        "en": "battery, batteries, cell, cells, aa, aaa, lr6, lr03, r6, r14, r20, lr14, lr20, "
        "um1, um2, um3, 6f22, 6lr61, li ion, lithium ion, lithium, lipo, li po, ni mh, nimh, "
        "ni cd, nicd, accumulator, rechargeable battery, battery pack, li polymer, accu, pp3",
        "de": "batterie, batterien, akku, akkus, mignon, blei akku",
        "fr es it pt": "pile, piles, pila, pilas, batería, baterías, bateria, baterias, batteria, "
        "batterie, accumulateur, pilha, pilhas, acumulador",
        "nl pl cs": "batterij, batterijen, accu, bateria, baterie, akumulator, akumulátor",
        "sv da no fi": "batteri, batterier, batteriet, paristo, paristot, akku",
        "ru": "батарея, батарейка, батарейки, аккумулятор, акб, элемент, элемента",
        "zh ja ko": "电池, 電池, 乾電池, 干电池, 蓄电池, 锂电池, 充電池, 건전지, 배터리, 전지, "
        "バッテリー, リチウム",
    },
    # Words that only name what the unit says already.
    "NAME": {
        "en": "voltage, current, power, rated, rating, ratings, nominal, supply, continuous, cont, "
        "volts, watts, amps, requires, rated voltage, rated current, freq, frequency",
        "de": "spannung, strom, leistung, nenn, nennspannung, nennstrom, dauer, frequenz, "
        "leistungsaufnahme",
        "fr": "tension, courant, puissance, fréquence, intensité, nominale",
        "es pt it": "tensión, tensão, tensione, corriente, corrente, potencia, potência, potenza, "
        "frecuencia, frequência, frequenza, voltaje, nominale",
        "nl pl cs": "spanning, stroom, vermogen, napięcie, prąd, moc, napětí, proud, výkon",
        "sv da no fi": "spänning, ström, effekt, spænding, strøm, spenning, jännite, virta, teho",
        "ru uk": "напряжение, ток, тока, мощность, частота, ном, номинальный, напруга, струм, "
        "струму, потужність, номінальна",
        "zh ja ko": "电压, 電壓, 電圧, 전압, 电流, 電流, 전류, 功率, 電力, 전력, 频率, 頻率, "
        "周波数, 주파수, 消費電流, 额定, 額定, 定格, 정격, 消費電力, 소비전력",
    },
    # Phrases that would be misread word by word.
    "NOISE": {
        "all": "made in, assembled in, designed in, printed in, built in, plug in, for use in, "
        "use in, dc converter, in china, "
        "负载, 負載, 室内, 室內, 户内, 正品, 正面, 外置, 外接, 内置, 中国, 中國, 大阪, 日本, 安全, "
        "外部電源, 安心, 正しく, 安装, 安裝, アダプター, アダプタ, 어댑터, 아답터",
    },
}

# Beginnings of words, for languages that build long ones: `Eingangsspannung`, `выходной ток`.
STEMS: dict[str, str] = {
    "INPUT": "eingangs, primär, ingangs, wejściow, vstupn, входн, ingångs, indgangs, inngangs, "
    "bemeneti, вхідн, входящ",
    "OUTPUT": "ausgangs, sekundär, uitgangs, wyjściow, výstupn, выходн, utgångs, udgangs, utgangs, "
    "kimeneti, вихідн, изходящ",
    "CENTRE": "midden, mittel, innen, středov, środkow, wewnętrzn, vnitřn, центральн, внутренн, "
    "внутрішн, keskinap",
    "SLEEVE": "außen, aussen, buiten, zewnętrzn, vnějš, наружн, внешн, зовнішн, ulkon",
    "TOTAL": "gesamt, суммарн",
    "PEAK": "spitzen, пиков, szczytow, špičk",
    "MAX": "maksym, максим",
    "FUSE": "sicherungs",
    "CELL": "batterie, аккумулятор, batarej",
    "DC": "gleichstrom, gleichspannung, stejnosměr, постоянн",
    "AC": "wechselstrom, wechselspannung, střídav, переменн",
    "NAME": "nenn, номинальн",
}

# Quantity, what one unit is worth in SI units, and how it is printed.
_PRINTED_UNITS: tuple[tuple[str, float, str], ...] = (
    ("V", 1.0, "v volt volts voltios voltio volty voltow voltov voltia voltu 伏 伏特 ボルト 볼트"),
    ("V", 1.0, "в вольт вольта вольтов вольти"),
    ("V", 1e-3, "mv мв millivolt millivolts"),
    ("V", 1e3, "kv кв"),
    ("A", 1.0, "a amp amps ampere amperes amper ampers amperow amperios amperio amperia ampery"),
    ("A", 1.0, "amperu а ампер ампера 安 安培 アンペア 암페어"),
    ("A", 1e-3, "ma milliamp milliamps milliampere milliamperes miliamperios miliamper"),
    ("A", 1e-3, "ма миллиампер мілліампер 毫安 ミリアンペア 밀리암페어"),
    ("A", 1e-6, "ua мка"),
    ("W", 1.0, "w watt watts vatios vatio waty watow wattia wat вт ватт ватта ваттов"),
    ("W", 1.0, "瓦 瓦特 ワット 와트"),
    ("W", 1e-3, "mw мвт"),
    ("W", 1e3, "kw квт 千瓦"),
    ("VA", 1.0, "va voltamp voltamps voltampere ва 伏安"),
    ("VA", 1e3, "kva ква"),
    ("HZ", 1.0, "hz hertz cps c/s cycles гц герц 赫 赫兹 ヘルツ 헤르츠"),
    ("HZ", 1e3, "khz кгц"),
    # Figures that are no rating of a supply.
    ("OTHER", 1.0, "mah ah wh mwh kwh мач ач втч c °c f °f k mm cm m in inch inches kg g lb oz ft"),
    ("OTHER", 1.0, "ω ohm ohms kω kohm mω uf nf pf nh mhz ghz db rpm lm min h hr hrs hours s sec"),
    ("OTHER", 1.0, "vpp mvpp"),
    ("OTHER", 1.0, "ms days years pin pins pcs pc mb gb bit мм см кг г ом 个 個 年 月 日 年製"),
)
UNITS: dict[str, tuple[str, float]] = {
    unit: (quantity, worth) for quantity, worth, units in _PRINTED_UNITS for unit in units.split()
}
