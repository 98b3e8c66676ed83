# Usual cautions, in our own words. They defer to the maker's manual, local codes and licensed trades.
# rules/cautions.toml says when each is printed.

caution-fuel = Fuel burns and its fumes can flash. Let the engine cool, fill it in the open air and keep sparks and flames away. Follow the maker's manual.
caution-exhaust = Engine exhaust holds carbon monoxide, a gas that kills and has no smell. Run the engine in the open air only, well away from doors and windows.
caution-hot = Parts of the engine stay hot long after it stops. Let them cool before you touch them. Do not open a hot cooling system.
caution-blades = Blades cut even when they turn by hand. Before you reach near them, stop the engine, take the key out and pull the lead off the spark plug or take the battery out. Then follow the maker's manual.
caution-moving = Keep hands, hair and loose clothes away from belts, fans and other parts that turn. Do not run the machine with a guard off.
caution-chain-saw = A saw can kick back at you in an instant. Check the chain brake before each use, wear the gear that the maker's manual asks for, and keep both hands on the saw.
caution-cut-off-saw = A cutting wheel can kick back, and one that is cracked flies apart. Use wheels rated for the speed, keep the guard on, wear eye cover and a mask, and wet the dust down.
caution-battery = Batteries can burn you, give off gas that can explode, and feed a very strong current. Keep sparks away, wear eye cover, and use only the charger that the maker names.
caution-lithium = Do not open, crush or heat a lithium battery. If it swells, smells or gets hot, move away from it and call for help. Do not charge it where people sleep.
caution-mains = Mains power can kill. Work on house wiring, or a generator feeding a house, is for a licensed electrician who knows the local code.
caution-capacitor = A capacitor can hold a strong shock long after the power is off. Leave covers closed and let a trained person work inside.
caution-ignition = The spark system gives a sharp shock. Pull the lead off the spark plug before you work near it, so that the engine cannot start.
caution-pressure = Air under pressure can burst what holds it. Let the pressure out before work, never block or change a safety valve, and have tanks checked as the local code asks.
caution-jet = A fine jet under high pressure goes through skin and can cost a limb. Never feel for a leak with your hand. If a jet breaks the skin, go to a hospital at once, even if it looks small.
caution-lifting = Never work under a machine that is held up by a jack alone. Use stands that are rated for the weight, on firm and level ground.
caution-spring = A wound or pressed spring holds a lot of force and can fly out. Leave it to somebody with the right tool.
caution-brakes = Test the brakes at walking pace before each ride or drive. Stop using the machine if the lever or pedal feels soft.
caution-wheel = Have wheel nuts checked for tightness after a short drive, as the maker's manual asks.
caution-grinding = A cracked grinding wheel can fly apart. Use wheels rated for the speed, keep the guard on and wear eye cover.
caution-chemicals = Keep shop fluids off your skin, out of drains and away from children and pets. Take old fluids to a place that accepts them.
caution-dust = Fine dust can harm your lungs for life. Wet it down, wear a fitted mask and follow local rules.
caution-outboard = Wear the stop cord and keep people clear of the propeller. On land, run the engine only with cooling water, as the maker's manual shows.
caution-roll-over = Keep off steep slopes, where the machine can roll over. Leave any roll bar up and the seat belt on.
caution-gas = Gas that leaks can explode. If you smell it, shut the supply, touch no switch and get out. Gas pipes are work for a licensed fitter.
caution-mobility = Try the machine in a clear, level place before you rely on it. Stop and call us if it does not stop when you let go.
