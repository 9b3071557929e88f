"""The table of all calculations: name, function, example. To add one is one line here."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Entry:
    """One calculation.

    name: as it is asked for. function: module below halfbore and function, imported on use.
    example: `argument=value; argument=value`, empty where the function takes a record, which carries its own.
    gives: names of the results where there are several, or the unit where the docstring has none.
    """

    name: str
    function: str
    example: str = ""
    gives: str = ""


def _table(text: str) -> tuple[Entry, ...]:
    """Return the entries of a text, a line each: name, function, example and results parted by bars."""
    rows = (line.split("|") for line in text.strip().splitlines())
    return tuple(Entry(*(cell.strip() for cell in row)) for row in rows)


SECTIONS = {
    "Ratings and rating life, ISO 281": _table("""
        dynamic-rating         | calc.bearing:dynamic_rating
        rating-life            | calc.bearing:rating_life
        modified-life          | calc.bearing:modified_life
        mean-load              | calc.bearing:mean_load
        life-over-duty         | calc.bearing:life_over_duty
        equivalent-load        | standards.iso281_2007:dynamic_equivalent_radial_load | F_r=17 kN; F_a=0 N
        geometry-factor        | standards.iso281_2007:f_c | gamma=0.125
        geometry-factor-by-formula | standards.iso281_2007:f_c_formula | gamma=0.125
        rating-factor          | standards.iso281_2007:b_m | kind=cylindrical
        life-in-hours          | standards.iso281_2007:life_in_hours | L=2154; n=990 r/min
        reliability-factor     | standards.iso281_2007:a_1 | S=95 %
        survival               | standards.iso281_2007:survival_probability | L=5000; L_10=10000
        reference-viscosity    | standards.iso281_2007:nu_1 | n=990 r/min; D_pw=160 mm
        viscosity-ratio        | standards.iso281_2007:kappa | nu=40 mm²/s; nu_1=12 mm²/s
        contamination-factor   | standards.iso281_2007_annex_a:contamination_factor | kappa=2; D_pw=160 mm; level=grease, severe
        fatigue-load-limit     | standards.iso281_2007:fatigue_load_limit | C_0r=280 kN; D_pw=160 mm
        life-factor            | standards.iso281_2007:a_iso | kappa=2; e_C=0.5; C_u=29 kN; P=20 kN
    """),
    "Static safety, ISO 76": _table("""
        static-rating          | standards.iso76_2006:basic_static_radial_load_rating | i=1; Z=18; L_we=30 mm; D_we=20 mm; alpha=0 deg; D_pw=160 mm
        static-safety          | standards.iso76_2006:static_safety_factor | C_0r=280 kN; P_0r=60 kN
        static-equivalent-load | standards.iso76_2006:static_equivalent_radial_load | F_r=20 kN
        least-static-safety    | standards.iso76_2006:least_static_safety_factor | running=normal
    """),
    "Oil and grease": _table("""
        oil-viscosity          | standards.astm_d341:viscosity | t=70 °C; nu_40=150 mm²/s; nu_100=15 mm²/s
        viscosity-at-100       | standards.astm_d2270:viscosity_at_100 | nu_40=150 mm²/s; VI=95
        viscosity-index        | standards.astm_d2270:viscosity_index | U=150 mm²/s; L=298 mm²/s; H=149 mm²/s; Y=14.5 mm²/s | VI
        viscosity-index-oils   | standards.astm_d2270:reference_viscosities | Y=14.5 mm²/s | L H
        viscosity-of-grade     | standards.iso3448_1992:midpoint_viscosity | vg=150
        limits-of-grade        | standards.iso3448_1992:viscosity_limits | vg=150 | least greatest
        regreasing-amount      | mechanics.lubrication:relubrication_amount | D=270 mm; B=80 mm
        regreasing-interval    | mechanics.lubrication:relubrication_interval | n=990 r/min; d=160 mm | interval [h]
        warm-grease-factor     | mechanics.lubrication:temperature_factor | t=85 °C
        grease-fill            | calc.unit:grease_fill
        grease-mass            | mechanics.lubrication:grease_mass | room=900000 mm³; share=40 %
    """),
    "Fits, clearance and the clamped ring": _table("""
        standard-tolerance     | standards.iso286_1_2010:it | nominal=160 mm; grade=8
        tolerance-unit         | standards.iso286_1_2010:tolerance_unit | D=147 mm
        shaft-h-limits         | standards.iso286_1_2010:h_limits | nominal=160 mm; grade=8 | upper lower
        clearance-of-group     | standards.iso5753_1991:radial_clearance | d=160 mm; group=C3 | least greatest
        shaft-deviation        | mechanics.shaft_seat:shaft_deviation | measured=99.9 mm; nominal=100 mm
        hot-deviation          | mechanics.shaft_seat:hot_deviation | deviation=-0.02 mm; d=160 mm; t_shaft=110 °C; t_ring=90 °C; alpha_shaft=1.17e-5
        clearance-loss         | mechanics.shaft_seat:thermal_clearance_loss | D_pw=160 mm; t_i=85 °C; t_o=70 °C
        mounted-clearance      | mechanics.shaft_seat:mounted_clearance | s=0.12 mm; deviation=-0.03 mm; thermal_loss=0.029 mm
        least-clearance        | mechanics.clearance_choice:least_clearance | s_min=0.115 mm; deviation_high=-0.02 mm; form=0.005 mm; loss_high=0.03 mm
        greatest-clearance     | mechanics.clearance_choice:greatest_clearance | s_max=0.165 mm; deviation_low=-0.05 mm; loss_low=0.01 mm
        joint-gap              | mechanics.shaft_seat:joint_gap | gap=0.3 mm; deviation=-0.1 mm
        joint-gap-stiff-ring   | mechanics.shaft_seat:joint_gap_rigid | gap=0.3 mm; deviation=-0.1 mm
        clamp-force-least      | mechanics.shaft_seat:clamp_force_least | F_v=15 kN
        clamp-force-greatest   | mechanics.shaft_seat:clamp_force_greatest | F_v=15 kN
        clamp-grip             | mechanics.shaft_seat:axial_slip_force | normal_force=120 kN; friction=0.12; loss=15 %
        clamp-slip-torque      | mechanics.shaft_seat:slip_torque | slip_force=12 kN; d=160 mm
        grip-left              | mechanics.shaft_seat:remaining_grip | slip_force=12 kN; gap=0.14 mm
    """),
    "Ring joint and load zone": _table("""
        load-over-turn         | calc.unit:load_over_turn
        load-zone              | calc.unit:load_zone
        joint-bridging         | mechanics.ring_joint:bridging_drop | gap=0.3 mm; D_we=20 mm
        joint-overhang         | mechanics.ring_joint:unsupported_length | gap=0.3 mm; skew=5 deg; L_we=30 mm
        joint-travel           | mechanics.ring_joint:joint_travel | gap=0.3 mm; skew=5 deg; L_we=30 mm
        inner-joint-frequency  | mechanics.speed:inner_joint_frequency | n=990 r/min; Z=18; gamma=0.125
        outer-joint-frequency  | mechanics.speed:outer_joint_frequency | n=990 r/min; Z=18; gamma=0.125
    """),
    "Speed and heat": _table("""
        speed-factor           | mechanics.speed:speed_factor | n=990 r/min; d_m=215 mm
        speed-limit-by-custom  | mechanics.speed:speed_limit_fallback | d_m=215 mm; factor_limit=300000
        cage-speed             | mechanics.speed:cage_speed | n=990 r/min; gamma=0.125
        roller-speed           | mechanics.speed:roller_spin | n=990 r/min; gamma=0.125
        minimum-load           | mechanics.minimum_load:minimum_load | capacity=200 kN; speed=990 r/min; speed_limit=2500 r/min
        minimum-load-of-custom | mechanics.minimum_load:rule_of_thumb | capacity=200 kN
        skidding-load          | mechanics.minimum_load:traction_load | drag_moment=1.2 N·m; mean_diameter=215 mm; traction=0.04
        friction-factors       | standards.iso15312_2018:friction_factors | rollers=caged; dimension_series=22 | f_0r f_1r
        frictional-heat        | standards.iso15312_2018:power_loss | n=990 r/min; f_0r=3; f_1r=0.0004; P_1r=14 kN; d_m=215 mm
        thermal-speed-rating   | standards.iso15312_2018:thermal_speed_rating | d=160 mm; D=270 mm; B=86 mm; C_0r=280 kN; f_0r=3; f_1r=0.0004
        seal-limits            | calc.unit:seal_limits
        seal-surface-speed     | mechanics.seals:surface_speed | d=160 mm; n=990 r/min
    """),
    "Axial load and travel": _table("""
        axial-chain            | calc.unit:axial_chain
        inner-flange-speed     | mechanics.axial:inner_flange_speed | h=1.8 mm; n=60 r/min; gamma=0.125
        outer-flange-speed     | mechanics.axial:outer_flange_speed | h=1.8 mm; n=60 r/min; gamma=0.125
        flange-heat            | mechanics.axial:flange_heat | F_a=6 kN; v_i=0.05 m/s; v_e=0.04 m/s; friction=0.05
        loaded-rollers         | mechanics.axial:loaded_rollers | Z=18; half_zone=80 deg
        flange-contact-area    | mechanics.axial:flange_overlap_area | D_we=20 mm; overlap=2.4 mm
        flange-pressure        | mechanics.axial:flange_pressure | F_a=6 kN; z=8; area=21 mm²
        flange-pressure-speed  | mechanics.axial:pressure_speed | p=36 MPa; v=0.05 m/s
        flange-capacity        | mechanics.axial:flange_capacity | pv_limit=2; v=0.05 m/s; z=8; area=21 mm²
        roller-couple          | mechanics.axial:roller_couple | F_a=6 kN; z=8; D_we=20 mm; h_i=1.8 mm; h_e=1.8 mm
        roller-load-along      | mechanics.axial:raceway_load_difference | M=12.3 N·m; x=10 mm; L_we=30 mm
        roller-end-load        | mechanics.axial:end_load_change | M=12.3 N·m; L_we=30 mm
        load-for-full-contact  | mechanics.axial:radial_load_for_full_contact | F_a=6 kN; D_we=20 mm; h_i=1.8 mm; h_e=1.8 mm; L_we=30 mm
        load-by-custom         | mechanics.axial:radial_load_by_custom | F_a=6 kN
        thermal-expansion      | mechanics.growth:expansion | material=carbon steel
        growth                 | mechanics.growth:growth | expansion=11.7; length=3250 mm; rise=60 K
        growth-against-base    | mechanics.growth:growth_against_base | distance=3250 mm; shaft_expansion=11.7; shaft_temperature=80 °C; base_expansion=11.7; base_temperature=30 °C
        growth-at-cold-start   | mechanics.growth:cold_start_growth | distance=3250 mm; shaft_expansion=11.7; shaft_temperature=80 °C; base_expansion=11.7; start=5 °C
        growth-range           | mechanics.growth:growth_range | distance=3250 mm; shaft_expansion=11.7; shaft_low=70 °C; shaft_high=90 °C; base_expansion=11.7; base_low=20 °C; base_high=40 °C | least greatest
        axial-travel           | mechanics.axial_travel:available_travel | track=5 mm; seal=3 mm; housing=6 mm
        travel-needed          | mechanics.axial_travel:travel_needed | growth_low=1.5 mm; growth_high=2.3 mm; offset=-1.9 mm; tolerance=1 mm
        travel-margin          | mechanics.axial_travel:travel_margin | available=3 mm; needed=1.4 mm
        best-offset            | mechanics.axial_travel:best_offset | growth_low=1.5 mm; growth_high=2.3 mm
        hot-shaft-decay        | mechanics.hot_shaft:fin_parameter | diameter=140 mm; film=15 W/(m²·K)
        hot-shaft-excess       | mechanics.hot_shaft:excess_temperature | excess=300 K; fin=0.00309; distance=500 mm; length=1000 mm
    """),
    "Alignment, support and lift": _table("""
        slope-of-height-error  | mechanics.tilt:height_slope | height_error=0.6 mm; span=1600 mm
        tilt                   | mechanics.tilt:tilt_demand | shaft_y=0.4 mrad; shaft_z=0.1 mrad; base_y=1 mrad; base_z=0 mrad
        tilt-bound             | mechanics.tilt:tilt_bound | shaft_slope=0.4 mrad; height_slope=0.37 mrad; base_slope=1 mrad
        tilt-not-set           | mechanics.tilt:tilt_not_set | static_tilt=2 mrad; setting_range=1.5 deg
        tilt-in-rollers        | mechanics.tilt:roller_tilt_left | running_change=0.1 mrad; rotating_tilt=0.2 mrad; not_set=0 mrad
        seat-breaks-loose      | mechanics.tilt:break_loose_moment | F_r=17 kN; F_cap=20 kN; R_s=140 mm; friction=0.2
        support-limit          | calc.unit:support_limit
        base-bolt-load         | mechanics.supports:bolt_tension | F=58 kN; direction=90 deg; height=150 mm; spacing=420 mm; per_side=2
        base-bolt-axial-load   | mechanics.supports:axial_bolt_tension | F_a=6 kN; height=150 mm; lever=60 mm
        base-clamping-left     | mechanics.supports:clamping_left | F_v=90 kN; tension=12 kN
        base-slip              | mechanics.supports:slip_capacity | F=58 kN; direction=90 deg; F_v=90 kN; bolts=4; friction=0.15
        base-axial-slip        | mechanics.supports:axial_slip_capacity | F=30 kN; direction=90 deg; slip=54 kN
        lift-needed            | mechanics.lift:lift_needed | stick_out=60 mm; lip=12 mm; clearance=3 mm
        lift-margin            | mechanics.lift:lift_margin | allowed=20 mm; needed=15 mm
        packing                | mechanics.lift:packing_thickness | old_height=150 mm; new_height=143 mm
        height-to-remove       | mechanics.lift:height_to_remove | old_height=150 mm; new_height=170 mm
        bolt-stress-area       | mechanics.bolts:stress_area | d=24 mm; pitch=3 mm
        bolt-stress-area-inch  | mechanics.bolts:stress_area_unified | d=1 in; threads=8
        bolt-proof-load        | mechanics.bolts:proof_load | S_p=600 MPa; A_s=353 mm²
        bolt-preload           | mechanics.bolts:preload | F_p=211 kN
        tightening-torque      | mechanics.bolts:tightening_torque | F_v=159 kN; d=24 mm
        preload-of-torque      | mechanics.bolts:preload_from_torque | T=760 N·m; d=24 mm
    """),
    "Shaft": _table("""
        shaft-line             | calc.shaft:shaft_line
        critical-speed         | calc.shaft:critical_speed
        roller-stiffness       | mechanics.stiffness:roller_stiffness | L_we=30 mm
        lamina-load            | standards.iso16281_2008:lamina_load | delta=0.01 mm; c_s=17000
        roller-profile         | standards.iso16281_2008:profile | x=12 mm; L_we=30 mm; D_we=20 mm
        contact-radius         | mechanics.roller_loads:contact_radius | D_we=20 mm; D_raceway=160 mm
        contact-pressure       | mechanics.roller_loads:line_pressure | w=200 N/mm; R=8.9 mm; E=113000 MPa
        bearing-deflection     | mechanics.stiffness:radial_deflection | F_r=20 kN; Z=18; i=1; L_we=30 mm
        bearing-stiffness      | mechanics.stiffness:secant_stiffness | F_r=20 kN; Z=18; i=1; L_we=30 mm
        section-area           | mechanics.shaft_section:area | diameter=160 mm
        section-stiffness      | mechanics.shaft_section:second_moment | diameter=160 mm
        section-modulus        | mechanics.shaft_section:section_modulus | diameter=160 mm
        shaft-mass             | mechanics.shaft_section:mass_per_length | diameter=160 mm
        bending-stress         | mechanics.shaft_section:bending_stress | moment=12 kN·m; diameter=160 mm
        torsional-stress       | mechanics.shaft_section:torsional_stress | torque=2.4 kN·m; diameter=160 mm
        equivalent-stress      | mechanics.shaft_section:equivalent_stress | bending=30 MPa; torsion=3 MPa
    """),
    "What acts on the shaft": _table("""
        torque-of-power        | mechanics.power:torque | power=250 kW; speed=990 r/min
        surface-speed          | mechanics.power:surface_speed | diameter=500 mm; speed=62 r/min
        weight                 | mechanics.forces:weight | mass=2600 kg
        resultant              | calc.unit:resultant
        load-direction         | mechanics.forces:direction | y=-17 kN; z=5 kN
        moment-about-shaft     | mechanics.forces:moment_about_shaft | y=0 mm; z=900 mm; force_y=9 kN; force_z=0 N
        balance-grade          | mechanics.fan:category_grade | category=BV-3
        grade-in-service       | mechanics.fan:grade_in_service | grade=6.3
        unbalance              | mechanics.fan:unbalance | mass=2600 kg; grade=6.3; speed=990 r/min
        unbalance-force        | mechanics.fan:unbalance_force | mass=2600 kg; grade=16; speed=990 r/min
        eccentric-force        | mechanics.fan:eccentric_force | mass=2600 kg; eccentricity=0.15 mm; speed=990 r/min
        inlet-thrust           | mechanics.fan:inlet_thrust | pressure_rise=4500 Pa; inlet_diameter=700 mm
        belt-wrap              | mechanics.belt:wrap_open | own_diameter=280 mm; other_diameter=450 mm; centre_distance=1100 mm
        crossed-belt-wrap      | mechanics.belt:wrap_crossed | own_diameter=280 mm; other_diameter=450 mm; centre_distance=1100 mm
        belt-grip              | mechanics.belt:tension_ratio | friction=0.5; wrap=171 deg
        groove-friction        | mechanics.belt:groove_friction | friction=0.3; half_groove=19 deg
        belt-pull              | mechanics.belt:effective_pull | power=75 hp; belt_speed=22 m/s
        belt-centrifugal-pull  | mechanics.belt:centrifugal_tension | mass_per_metre=1.2 kg/m; belt_speed=22 m/s
        belt-tight-strand      | mechanics.belt:tight_from_pull | pull=2500 N; ratio=4
        belt-slack-strand      | mechanics.belt:slack_from_pull | pull=2500 N; ratio=4
        belt-slack-of-tight    | mechanics.belt:slack_from_tight | tight=3300 N; ratio=4
        belt-pull-of-set       | mechanics.belt:pull_from_initial | initial=2050 N; ratio=4
        belt-best-speed        | mechanics.belt:speed_of_greatest_power | allowed=3300 N; mass_per_metre=1.2 kg/m
        belt-set-tension       | mechanics.belt:initial_tension | tight=3300 N; slack=800 N
        belt-shaft-load        | mechanics.belt:shaft_pull | tight=3300 N; slack=800 N; wrap=171 deg
        belt-load-by-direction | mechanics.belt:pull_from_centres | tight=3300 N; slack=800 N; wrap=171 deg; centre_angle=90 deg; torque_sense=1 | y z
        belt-load-by-strands   | mechanics.belt:strand_pull | tight=3300 N; slack=800 N; tight_angle=80 deg; slack_angle=100 deg | y z
        belt-load-by-custom    | mechanics.belt:pull_factor | kind=V-belt | low high
        belt-load-of-power     | mechanics.belt:pull_from_power | pull=2500 N; factor=2
        drum-friction          | mechanics.drum:surface_friction | surface=grooved rubber, clean wet | low high
        drum-slack-strand      | mechanics.drum:slack_minimum | pull=32 kN; friction=0.3; wrap=180 deg; start_factor=1.4
        drum-tight-strand      | mechanics.drum:tight_from_slack | slack=22 kN; pull=32 kN
        drum-slip-margin       | mechanics.drum:slip_margin | tight=54 kN; slack=22 kN; friction=0.3; wrap=180 deg
        conveyor-load          | mechanics.conveyor:load_per_metre | capacity=300 t/h; belt_speed=1.6 m/s
        conveyor-resistance    | mechanics.conveyor:main_resistance | friction=0.02; length=120 m; idlers=25 kg/m; belt=12 kg/m; load=52 kg/m
        conveyor-lift          | mechanics.conveyor:lift_resistance | load=52 kg/m; lift=18 m
        conveyor-length-factor | mechanics.conveyor:length_coefficient | length=120 m
        conveyor-pull          | mechanics.conveyor:conveyor_pull | coefficient=1.7; main=2500 N; lift=9200 N
        conveyor-sag-tension   | mechanics.conveyor:sag_tension | spacing=1200 mm; belt_and_load=64 kg/m; sag=0.01
        elevator-run           | mechanics.elevator:run_per_metre | belt=18 kg/m; bucket=14 kg; pitch=400 mm
        elevator-load          | mechanics.elevator:load_per_metre | contents=30 kg; fill=75 %; pitch=400 mm
        elevator-capacity      | mechanics.elevator:capacity | load=56 kg/m; belt_speed=1.6 m/s
        elevator-digging       | mechanics.elevator:digging_lift | boot_diameter=600 mm; diameters=10
        elevator-lifted        | mechanics.elevator:lifted_pull | load=56 kg/m; lift=28 m; digging=4 m
        elevator-head-load     | mechanics.elevator:head_load | tight=32 kN; slack=14.5 kN; drum_weight=10.8 kN
        elevator-power         | mechanics.elevator:power | tight=32 kN; slack=14.5 kN; belt_speed=1.6 m/s
        elevator-tight-strand  | mechanics.elevator:tight_strand | run=53 kg/m; load=56 kg/m; lift=28 m; digging=4 m
        elevator-slack-strand  | mechanics.elevator:slack_strand | run=53 kg/m; lift=28 m
        take-up-strand         | mechanics.drum:take_up_strand | take_up=19 kN
        paddle-push            | mechanics.paddles:bed_push | torque=7 kN·m; diameter=1200 mm; lever=0.7
        paddle-push-one-sided  | mechanics.paddles:unbalanced_push | push=16.7 kN; one_sided=75 %
        screw-thrust-bound     | mechanics.screw:thrust_bound | power=15 kW; speed=60 r/min; pitch=250 mm
        screw-thrust           | mechanics.screw:thrust_of_power | bound=60 kN; part=65 %
        gear-tooth-force       | mechanics.gear:tangential_force | torque=2.4 kN·m; pitch_diameter=300 mm
        spur-gear-radial       | mechanics.gear:spur_radial | tangential=16 kN; pressure_angle=20 deg
        spur-gear-tooth-force  | mechanics.gear:spur_resultant | tangential=16 kN; pressure_angle=20 deg
        helical-gear-radial    | mechanics.gear:helical_radial | tangential=16 kN; normal_pressure_angle=20 deg; helix_angle=15 deg
        helical-gear-axial     | mechanics.gear:helical_axial | tangential=16 kN; helix_angle=15 deg
        bevel-gear-radial      | mechanics.gear:bevel_radial | tangential=16 kN; pressure_angle=20 deg; cone_angle=30 deg
        bevel-gear-axial       | mechanics.gear:bevel_axial | tangential=16 kN; pressure_angle=20 deg; cone_angle=30 deg
        gear-load-by-direction | mechanics.gear:mesh_force | tangential=16 kN; radial=5.8 kN; mesh_angle=90 deg; torque_sense=1 | y z
        gear-axial-couple      | mechanics.gear:axial_couple | axial=4.3 kN; radius=150 mm; mesh_angle=90 deg | y z
        hung-drive-torque      | mechanics.shaft_drive:output_torque | power=55 kW; speed=62 r/min; efficiency=96 %
        torque-arm-force       | mechanics.shaft_drive:arm_force | torque=8.1 kN·m; reach=900 mm
        torque-arm-lever       | mechanics.shaft_drive:arm_lever | arm_y=0 mm; arm_z=900 mm; arm_angle=0 deg
        torque-arm-reaction    | mechanics.shaft_drive:arm_reaction | output_torque=8.1 kN·m; other_moment=0 N·m; lever=900 mm
        torque-arm-point       | mechanics.shaft_drive:arm_point | reach=900 mm; arm_angle=0 deg; torque_sense=1 | y z
        hung-drive-couple      | mechanics.shaft_drive:couple_on_shaft | weight=7650 N; weight_offset=40 mm; arm=9 kN; arm_angle=0 deg; arm_offset=60 mm | y z
        hung-drive-load        | mechanics.shaft_drive:force_on_shaft | weight=7650 N; arm=9 kN; arm_angle=0 deg | y z
    """),
    "Lifting by hand": _table("""
        lifting-limit          | standards.niosh_1991:recommended_weight_limit | HM=0.83; VM=0.93; DM=0.92; AM=1; FM=0.94; CM=0.95
        lifting-index          | standards.niosh_1991:lifting_index | load=18 kg; RWL=14.6 kg
        lifting-horizontal     | standards.niosh_1991:horizontal_multiplier | H=300 mm
        lifting-vertical       | standards.niosh_1991:vertical_multiplier | V=500 mm
        lifting-distance       | standards.niosh_1991:distance_multiplier | D=600 mm
        lifting-twist          | standards.niosh_1991:asymmetric_multiplier | A_deg=45
        lifting-frequency      | standards.niosh_1991:frequency_multiplier | lifts=1; hours=1 h; V=500 mm
        lifting-grip           | standards.niosh_1991:coupling_multiplier | grip=fair; V=500 mm
        lifting-reach          | standards.niosh_1991:horizontal_distance | W=300 mm; V=500 mm
        lifting-in-turn        | calc.planning:composite_lifting
    """),
    "Time, lives and money": _table("""
        critical-path          | calc.planning:critical_path
        three-point-mean       | numerics.network:pert_mean | low=2; likely=3; high=6
        three-point-variance   | numerics.network:pert_variance | low=2; high=6
        weibull-fit            | calc.planning:weibull_fit
        weibull-mean           | numerics.life_data:weibull_mean | shape=1.5; scale=40000
        weibull-deviation      | numerics.life_data:weibull_deviation | shape=1.5; scale=40000
        weibull-life           | numerics.life_data:weibull_life | share=10 %; shape=1.5; scale=40000
        mean-life              | calc.planning:mean_life
        renewals               | numerics.renewal:renewals_in_the_long_run | time=200000; mean=36000; deviation=24500
        present-worth          | calc.planning:present_worth
        hidden-hours           | value.costs:hidden_hours | outage=24 h; share=1; stop_length=12 h
        internal-rate          | calc.planning:internal_rate_of_return
        discount-factor        | numerics.cash_flow:discount_factor | rate=7 %; time=5
        annuity-factor         | numerics.cash_flow:annuity_factor | rate=7 %; periods=10
        capital-recovery       | numerics.cash_flow:capital_recovery_factor | rate=7 %; periods=10
        yearly-cost            | numerics.cash_flow:annual_equivalent | first_cost=9000; salvage=0; yearly_cost=400; rate=7 %; periods=10
        net-savings            | numerics.cash_flow:net_savings | savings=30000; investment=9000
        savings-ratio          | numerics.cash_flow:savings_to_investment | savings=30000; investment=9000
        adjusted-return        | numerics.cash_flow:adjusted_rate_of_return | ratio=3.3; rate=7 %; years=10
        simple-payback         | numerics.cash_flow:simple_payback | investment=9000; yearly_saving=4000
        discounted-payback     | numerics.cash_flow:discounted_payback | investment=9000; yearly_saving=4000; rate=7 %
    """),
}

ENTRIES = {entry.name: entry for section in SECTIONS.values() for entry in section}
