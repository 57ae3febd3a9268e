"""What mechanics call things: the head words of names, sorted into the classes the senses of verbs ask for.

All of it is data. A compound counts as its last word does ("drain screw" is a screw) unless it stands in
``COMPOUNDS``. A head word that stands nowhere is a part.
"""

from __future__ import annotations

CLASSES = {
    # turned to make a joint tight
    "fastener": """
        bolt screw nut stud plug capscrew cap-screw setscrew set-screw locknut lock-nut lockscrew wingnut wing-nut
        capnut cap-nut union fitting banjo fastener adaptor adapter adjuster nipple grub-screw thumbscrew
        jubilee-clip hose-clip eyebolt eye-bolt turnbuckle coupler ferrule lag bolting
        hardware hose-clamp jam-nut crown-nut machine-screw jackscrew stud-bolt u-bolt fixing fixings retainer
    """,
    # tightened as a whole when a tightening verb governs it, and a part otherwise
    "threaded": "clamp strap collar gland sight-glass cap ring glass nozzle impeller injector sensor filter element strainer cup bowl probe sender",
    # keeps a joint from turning loose
    "lock": """
        cotter split-pin cotter-pin roll-pin r-clip circlip lockwire locking-wire safety-wire tab tab-washer lockplate
        lock-plate snap-ring pal-nut hairpin clip lock-tab locktab spring-pin
    """,
    "washer": "washer lockwasher lock-washer shim spacer lockring-washer",
    "seal": """
        seal gasket o-ring oring packing crush-ring sealing-ring seal-ring lip-seal diaphragm joint-ring gaiter
        gland-packing grommet
    """,
    "tool": """
        wrench spanner socket ratchet key driver screwdriver bit brush scraper cloth rag punch drift puller gauge feeler
        crowfoot hammer mallet file hoist sling jack crane stand hook tap die pliers extension torque-wrench cloths
        multimeter lamp torch vice mandrel stretcher dial micrometer caliper rule ruler handle t-bar breaker-bar straightedge
        tester gloves glove goggles adaptor-set tray container pan bucket bin magnet mirror funnel syringe thermometer
        trolley table-lift lever multiplier strap-wrench towel sponge nylon-brush wedge chock prop support swab
    """,
    "fluid": "oil coolant fluid water fuel electrolyte milk lubricant antifreeze gear-oil brine refrigerant nutrient",
    "lubricant": """
        grease anti-seize antiseize paste vaseline jelly wax molybdenum moly graphite assembly-paste lube copper-paste
        soap tallow talc
    """,
    "compound": """
        sealant thread-locker threadlocker thread-lock threadlock locking-compound compound tape adhesive sealer glue
        thread-sealant loctite-free sealing-tape varnish lacquer ptfe hemp
    """,
    "machine": """
        engine motor pump compressor machine generator winch drive unit set plant fan blower gearbox installation
        equipment system appliance
    """,
    "power": "battery mains power isolator supply current breaker electricity switch charger voltage starter-battery",
    "pressure": "pressure air vacuum gas steam",
    "valve": "valve cock tap stopcock ball-valve",
    "cable": "cable lead wire connector harness plug-connector wiring sensor-lead coil terminal-lead socket-plug earth-strap",
    "hose": "hose pipe line tube duct pipework tubing ducting",
    "dirt": """
        dirt dust grit rust paint burr burrs residue scale swarf chip chips debris carbon deposit grime corrosion
        sludge contamination foulness traces lint
    """,
    "feature": """
        thread threads head heads face faces hole holes bore bores groove grooves seat seats shoulder flat flats tip tips
        side sides end ends edge edges surface surfaces shank slot slots lip lips underside top bottom position positions
        corner corners middle centre center outside inside point points place places height depth width length size level gap
        clearance fit play runout pattern order sequence turn turns direction angle stop pair pairs half contact base spigot
        notch mark marks arrow arrows letter flange-face counterbore chamfer quarter row rows remainder rest set-of
        hand fingers finger thumb palm ground floor bench
    """,
    "measure": """
        torque value values figure figures setting settings reading readings tightness drag preload stretch temperature
        speed time interval hours minutes seconds days km run-in date number numbers serial spec specification
        specifications limit limits tolerance range scale load weight mass rating percent amount quantity volume
    """,
    "document": """
        step steps table tables figure-no fig section sections appendix chapter page pages paragraph drawing manual card
        sheet log book label sketch diagram list report record instruction instructions note procedure annex log-book
        job-card handbook item items caution warning form issue issues column
    """,
    "part": "assembly subassembly supply removal impeller-cover",
    "person": "person people assistant helper fitter technician mechanic operator somebody someone nobody",
    "load": "load drum rotor bar counterweight bar-load",
    "leakage": "leak leaks leakage drip drips seepage weep weeping bubbles bubble",
    "damage": "crack cracks wear damage scratches nicks scoring pitting corrosion distortion burrs necking fatigue defects warp",
}

COMPOUNDS = {
    "torque wrench": "tool", "torque driver": "tool", "torque screwdriver": "tool", "torque key": "tool",
    "torque tool": "tool", "torque gauge": "tool", "torque multiplier": "tool", "torque handle": "tool",
    "torque spanner": "tool", "impact driver": "tool", "impact wrench": "tool", "air wrench": "tool",
    "air gun": "tool", "air line": "tool", "air tool": "tool", "hex key": "tool", "allen key": "tool",
    "feeler gauge": "tool", "breaker bar": "tool", "tommy bar": "tool", "hook spanner": "tool",
    "pin spanner": "tool", "pin punch": "tool", "blunt punch": "tool", "centre punch": "tool", "wire brush": "tool",
    "angle gauge": "tool", "dial gauge": "tool", "pressure gauge": "part", "oil can": "tool", "oil tray": "tool",
    "drain tray": "tool", "drain pan": "tool", "power tool": "tool", "power driver": "tool", "power tools": "tool",
    "lock bar": "temporary", "locking bar": "temporary", "guide stud": "temporary", "guide pin": "temporary",
    "locking pin": "temporary", "lock pin": "temporary", "alignment pin": "temporary", "transport bolt": "fastener",
    "shipping screw": "fastener", "shipping plug": "temporary", "blanking plug": "temporary",
    "blanking cap": "temporary", "timing pin": "temporary", "lifting eye": "temporary", "lifting eyes": "temporary",
    "transport lock": "temporary", "dust cap": "part", "rubber cap": "part", "end cap": "part",
    "bearing cap": "part", "hub cap": "part", "filler cap": "fastener", "strainer cap": "fastener",
    "spring cap": "fastener", "screw cap": "fastener", "drain cap": "fastener", "fill cap": "fastener",
    "filter cap": "fastener", "vent cap": "fastener", "radiator cap": "fastener", "tank cap": "fastener",
    "lock ring": "threaded", "locking ring": "fastener", "threaded ring": "fastener", "retaining ring": "lock",
    "clamp ring": "part", "snap ring": "lock", "piston ring": "part", "sight glass": "threaded",
    "crush ring": "seal", "sealing ring": "seal", "seal ring": "seal", "copper ring": "seal", "backup ring": "seal",
    "support ring": "seal", "joint ring": "seal", "felt ring": "seal", "quad ring": "seal", "o ring": "seal",
    "split pin": "lock", "cotter pin": "lock", "roll pin": "lock", "spring pin": "lock", "tab washer": "lock",
    "lock tab": "lock", "locking tab": "lock", "lock wire": "lock", "locking wire": "lock", "safety wire": "lock",
    "locking plate": "lock", "lock plate": "lock", "r clip": "lock", "spring clip": "lock", "safety clip": "lock",
    "jam nut": "fastener", "check nut": "fastener", "lock nut": "fastener", "counter nut": "fastener",
    "set screw": "fastener", "grub screw": "fastener", "drain screw": "fastener", "cap screw": "fastener",
    "drain plug": "fastener", "fill plug": "fastener", "level plug": "fastener", "pipe plug": "fastener",
    "bleed screw": "fastener", "bleed nipple": "fastener", "stop screw": "fastener", "lock screw": "fastener",
    "clamp bolt": "fastener", "clamp screw": "fastener", "pinch bolt": "fastener", "pin bolt": "fastener",
    "stud nut": "fastener", "stud bolt": "fastener", "hose clip": "fastener", "hose clamp": "fastener",
    "pipe clamp": "fastener", "spark plug": "fastener", "glow plug": "fastener", "seal carrier": "part",
    "seal housing": "part", "seal lip": "feature", "seal face": "feature", "seal seat": "feature",
    "start battery": "power", "starter battery": "power", "main switch": "power", "start button": "power",
    "start switch": "power", "stop button": "power", "torque arm": "part", "torque rod": "part",
    "torque converter": "part", "torque converter cover": "part", "torque limiter": "part", "torque plate": "part",
    "torque link": "part", "torque tube": "part", "reaction arm": "tool", "torque value": "measure",
    "torque values": "measure", "torque figure": "measure", "torque figures": "measure", "torque spec": "torque-label",
    "torque specification": "torque-label", "torque setting": "torque-label", "torque table": "document",
    "tightening torque": "torque-label", "running torque": "running", "drag torque": "running",
    "prevailing torque": "running", "breakaway torque": "running",
    "friction torque": "running", "run-on torque": "running", "rolling torque": "running", "turning torque": "running",
    "final torque": "torque-label", "seating torque": "torque-label", "full torque": "torque-label",
    "specified torque": "torque-label", "installation torque": "torque-label", "assembly torque": "torque-label",
    "torque range": "measure", "torque pattern": "feature", "torque sequence": "feature", "torque seal": "compound",
    "torque stripe": "compound", "witness mark": "feature", "oil level": "level", "fluid level": "level",
    "coolant level": "level", "water level": "level", "fuel level": "level", "oil film": "lubricant",
    "engine oil": "fluid", "gear oil": "fluid", "clean oil": "fluid", "hydraulic oil": "fluid",
    "hydraulic fluid": "fluid", "soapy water": "soapy", "soap solution": "soapy", "leak spray": "soapy",
    "leak detector": "soapy", "clean water": "fluid", "petroleum jelly": "lubricant", "assembly paste": "lubricant",
    "copper paste": "lubricant", "copper grease": "lubricant", "silicone grease": "lubricant",
    "thread locker": "compound", "thread lock": "compound", "locking compound": "compound",
    "thread sealant": "compound", "thread sealer": "compound", "sealing tape": "compound", "ptfe tape": "compound",
    "liquid gasket": "compound", "locking fluid": "compound", "screw lock": "compound", "pipe sealant": "compound",
    "jointing compound": "compound", "sealing compound": "compound", "pipe dope": "compound",
    "thread adhesive": "compound", "bolt hole": "feature", "bolt holes": "feature", "screw hole": "feature",
    "screw holes": "feature", "drain hole": "feature", "level hole": "feature", "fill hole": "feature",
    "stud hole": "feature", "bolt head": "feature", "bolt heads": "feature", "screw head": "feature",
    "screw heads": "feature", "nut side": "feature", "nut face": "feature", "bolt circle": "feature",
    "bolt thread": "feature", "bolt threads": "feature", "bolt stretch": "measure", "washer face": "feature",
    "drain cock": "valve", "drain valve": "valve", "drain tap": "valve", "check valve": "part", "relief valve": "part",
    "safety valve": "part", "valve plate": "part", "valve cover": "part", "valve body": "part", "air filter": "part",
    "oil filter": "part", "oil pump": "machine", "fuel pump": "machine", "water pump": "machine",
    "gear set": "part", "drive disc": "part", "drive unit": "machine", "drive shaft": "part", "drive belt": "part",
    "air gap": "feature", "air pressure": "pressure", "system pressure": "pressure", "oil pressure": "measure",
    "pump body": "part", "pump label": "document", "pump face": "feature", "fan guard": "part", "engine mount": "part",
    "motor mount": "part", "motor plate": "part", "union nut": "fastener", "flare nut": "fastener",
    "job card": "document", "log book": "document", "log sheet": "document", "winch book": "document",
    "stretch gauge": "tool", "oil seal": "seal", "shaft seal": "seal", "face seal": "seal", "lip seal": "seal",
    "gear case": "part", "load bar": "part", "carrier bolt": "fastener", "free length": "measure",
    "load-indicating ring": "washer", "load-indicating washer": "washer", "thrust ring": "washer",
    "brake coil": "cable", "brake lining": "part", "filter element": "consumable", "filter cartridge": "consumable",
    "oil filter element": "consumable", "filter insert": "consumable", "drive belts": "consumable", "v-belt": "consumable",
    "anode": "consumable", "pipe union": "fastener", "union joint": "fastener", "check list": "document",
    "drop loop": "part", "paint mark": "feature", "match marks": "feature", "match mark": "feature",
    "serial number": "measure", "wrench number": "measure", "key way": "feature", "air bubbles": "leakage",
    "sealing face": "feature", "sealing faces": "feature", "mating face": "feature", "mating faces": "feature",
    "joint face": "feature", "joint faces": "feature", "joint seal": "seal", "support stand": "tool",
    "axle stand": "tool", "axle stands": "tool", "lifting sling": "tool", "chain hoist": "tool",
    "plug socket": "power", "mains plug": "power", "power plug": "power", "battery plug": "power",
    "power cord": "power", "cable plug": "cable", "sensor plug": "cable", "coil plug": "cable", "connector plug": "cable",
    "screwdriver bit": "tool", "hand wheel": "part", "hand pump": "tool", "wing screw": "fastener",
    "wing nut": "fastener", "nut runner": "tool", "crows foot": "tool", "crow foot": "tool", "crow's foot": "tool",
    "record card": "document", "mounting bolt": "fastener", "mounting screw": "fastener",
}  # fmt: skip

STRUCTURE = """
cover plate lid bracket housing flange casing body guard hood door panel frame head volute wheel carrier manifold
""".split()
"""Parts held by fasteners of their own: "tighten the cover" names no joint by itself."""

SINGULARS = {"bolting", "hardware", "fixings", "glass", "brass", "grease", "press", "lens", "bus", "gas", "this"}
