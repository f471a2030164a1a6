"""Words that service pages print often: of the trade, and plain English ones. From memory; common
practice, no source."""

_TRADE = """
    adjust adjustable adjusted adjusting adjustment adjustments aerial align aligned aligning
    alignment alternating ampere amperes amplification amplifier amplifiers amplify anode antenna
    approximate approximately armature assembly attach attached audio automatic balance balanced
    ballast band bands base bases batteries battery beam bias bleeder board both bottom bracket
    bulb button buttons cabinet cable capacitance capacitor capacitors carbon cartridge cathode
    center centre ceramic change changed changer changes chart chassis check checked choke circuit
    circuits clamp clockwise coil coils collector color colour common compensating complement
    component components condenser condensers conductor cone connect connected connecting
    connection connections connector console contact contacts control controls converter cord core
    cores counterclockwise coupled coupling crystal current currents cushion cycle cycles damage
    dampness dead decoupling deflection degrees description detector diagram dial dials diameter
    diaphragm diode direct discharge disconnect disconnected distortion drawing dress drive driver
    drum dummy early electric electrolytic electrolytics element envelope equipment escutcheon
    external feedback field filament filaments filter filters fixed flexible frequencies frequency
    fringe front function fuse fuses gain gang generator glass grid grids grille ground grounded
    grounding half hardware harmonic headphone heater heaters high housing image impedance
    included indicator inductance input inserted installation installed instruction instructions
    insulated insulating insulation insulator interference intermediate internal inverter isolated
    isolating isolation jack joined junction kilocycles knob knobs label lamp lamps lead leads
    level limiter line link listed local location locations loop loose loudspeaker lower lubricate
    magnet magnetic main mains manual manufacturer mark marked master maximum measure measured
    measurement measurements measuring medium megacycles megohm megohms metal meter mica
    microfarad microfarads milliamperes minimum mixer model models modulated modulation monitor
    moulded mounted mounting multiplier needle negative neutral neutralizing noise noisy normal
    octal ohms oil open opening operate operated operating operation oscillate oscillating
    oscillation oscillator oscilloscope outlet output padder padding panel paper parallel part
    parts pentode permanent permeability phase phono phonograph pickup picture pilot plate plates
    plug pointer polarity portable position positions positive potential potentiometer power
    preselector pressure primary procedure production pulley pulleys push radio radios range
    ranges ratio reading readings rear receiver receivers reception record rectifier rectifiers
    reduce reference regulator relay remote removal remove removed removing repair replace
    replaced replacement replacements replacing reservoir resistance resistances resistor
    resistors resonance response rotate rotor scale schematic screen screens screw screws
    secondary section sections selectivity selector selenium sensitivity series service serviceman
    servicing set sets shaft shield shielded shielding short shorted shunt signal signals silver
    single smoothing socket sockets solder soldered source spacer speaker speakers special
    specifications speed spring squelch stage stages standard starter static station stations
    stator step steps string stringing substitute superheterodyne supply suppressor switch
    switches symbol symbols synchronous table tapped telephone television terminal terminals test
    tested tester testing tone top total tracking transformer transformers transmitter trimmer
    trimmers triode trouble tube tubes tuned tuner tuning turn turns twin type types unit
    universal valve valves vane variable variations vernier vertical vibrator view voice voltage
    voltages volts volume warm washer watt watts wave wavelength waves wire wired wires wirewound
    wiring wound
    accumulator aerials ageing airgap amperage ampoule apparatus atmospherics attenuation attenuator
    autodyne autotransformer backlash baffle baffles bakelite bandpass bandspread bandwidth batten
    beeswax bezel biased bonded bonding bracing brackets breakdown bushing bushings bypass bypassed
    bypassing calibrate calibrated calibration cam cams capacities capacity cardboard cathodes
    cell cells cement chokes clip clips clockwise coaxial combination commutator compensated
    concentric condensor conical connexion connexions coupler couplings crackle crackling cursor
    decouple decoupled decoupling demodulator detent detuned detuning dielectric dielectrics
    dipole dismantle dismantled dismantling dissipation distorted dynamic dynamotor earth
    earthed earthing eccentric electrode electrodes electrodynamic electrolyte eliminator emission
    energise energised equalizer eyelet eyelets fading faders felt ferrule fibre filamentary flex
    flux flywheel focusing former formers frame gain galvanometer gasket gauge gearing gears getter
    gramophone grease grommet grommets grub harmonics hash headset headphones heterodyne hinge howl
    hub idler idlers ignition impregnated impedances inductances inductive inductor inductors
    injector instability insulators interelectrode interstage interlock isolate isolated jig joints
    keyed kilocycle kilowatt knurled lacquer lamination laminations lever levers lid limiting
    litz locknut locknuts loosen loudspeakers lug lugs magnets mainspring megacycle microphone
    microphonic microphony milliammeter milliampere mistuning modification modifications modulator
    motorboating mounting mountings muting negligible neon neutralise neutralised nickel
    nut nuts objectionable ohmmeter ohmic oscillators oscillatory outlet overheating overload
    overloading oxide padders parasitic peaked peaking pentagrid pentodes pigtail pigtails pinch
    pins piston pivot pliers plugs polarised polarized polystyrene porcelain preset presets
    primaries prong prongs pulsating pushbutton quiescent quench rack radiator ratchet reactance
    reaction rectified rectify rectifying regeneration regenerative regulation rejector rejectors
    reservoirs resistive resistivity resonant resonate resonator retune retuned reversed rewind
    rheostat ripple rivet riveted rivets rocking rubber saturation scales screened screening
    screwdriver scratchy seized selenium semicircular serviced serrated servicemen shellac shields
    shorting shroud sidebands sideways slack sleeve sleeves sleeving slider slotted slug slugs
    smoothing sockets solder soldering solenoid spacers spark spindle spindles spiral spot springs
    squealing squeaking stability stamped stampings stapled stray strays strip strips stud studs
    stylus subassembly subchassis sulphation superhet superheterodynes suppressed suppression
    suppressors swamping sweep swinging symmetrical tag tags tapping tappings template tension
    termination tetrode tetrodes threaded thermal throw tightened tinned toggle tolerance
    tolerances traces transients transit transmission treble triodes trimmed trimming triple
    turntable turret undistorted unscrew unscrewing unsolder vacuum valveholder valveholders
    varnish varnished vibrators voltmeter voltmeters wavechange waveband wavebands wavetrap
    wavetraps wax waxed wipe wiper wipers wirewound woofer workbench worm
"""
_PLAIN = """
    about above according across after again against all along also although always among and
    another any apart april are around august away back because been before began behind being
    below between beyond black blue both bring brought brown but came cannot care carefully
    carried carries carry case cause caused certain clean close closed closely come complete
    completely consult contain contains could cover covers cured date december depend desired
    detail details difference different distance does done down drawn during each early easily
    either else enough entire equal even ever every example except fail fails fasten february few
    figure figures final finally find first five follow followed following follows for force form
    forward four free from full fully further general give given gives good gray great greatest
    green grey half hand handle have heard held here hold hole holes however hum important
    improper inch inches increase inside instead into january july june just keep kept large
    larger largest last late later least leave left length less letter letters like likewise list
    little long longer look looking made make makes making manner many march matter mean means
    middle might more most move moved much must name near nearest necessary need never next none
    note notes nothing notice november number numbers obtain obtained occur october often once
    only opposite orange order original other others outside over page pages part pass passes peak
    piece place placed plain point points possible prevent previous price prices print printed
    produce proper properly provide provided pull purchase purpose quality quarter quite rate
    rather reach reached read ready reason receive recommended red regular repeat repeated require
    required rest result return right round runs same second secure see seen sell separate
    september serial seven several shall should show shown shows side sides similar simple since
    size slight slightly slowly small smaller sold some soon sound space start state still strong
    such sufficient sure take taken than that their them then there therefore these they thick
    thin third this those though three through tight till time times together touch touched
    touching toward towards twice under unless until upon upper used user uses using usual usually
    various very violet warning when where whether which while white whole wide will wind with
    within without words work working would wrong yellow your zero
"""
# As these papers shorten words, with or without a full stop.
_SHORT = """
    ac af afc am amp ant approx aud avc cap ch conv dc det elec etc fig fm ft i.f if in kc kcs lb
    ma max mc meg mf mfd mfds mil min mm mmf mmfd mmfds
    mv uf uuf uufd nf mh uh ea pr doz qty cps rpm no nos osc oz p pf pm pot pp
    pri pt rect ref res rf sec spkr
    sw var vol vs wt
"""
TRADE = frozenset(_TRADE.split())
PLAIN = frozenset(_PLAIN.split())
SHORT = frozenset(_SHORT.split())
