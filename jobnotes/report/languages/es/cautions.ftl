# Advertencias habituales.

caution-fuel = El combustible arde y sus vapores pueden inflamarse. Deje enfriar el motor, reposte al aire libre y mantenga lejos chispas y llamas. Siga el manual del fabricante.
caution-exhaust = Los gases de escape contienen monóxido de carbono, un gas mortal y sin olor. Haga funcionar el motor solo al aire libre, lejos de puertas y ventanas.
caution-hot = Partes del motor siguen calientes mucho después de pararlo. Déjelas enfriar antes de tocarlas. No abra un circuito de refrigeración caliente.
caution-blades = Las cuchillas cortan incluso si giran a mano. Antes de acercar la mano, pare el motor, quite la llave y desconecte el cable de la bujía o retire la batería. Después siga el manual del fabricante.
caution-moving = Mantenga las manos, el pelo y la ropa suelta lejos de correas, ventiladores y otras piezas giratorias. No use la máquina sin sus protecciones.
caution-chain-saw = Una motosierra puede rebotar hacia usted en un instante. Compruebe el freno de cadena antes de cada uso, lleve el equipo que pide el manual del fabricante y mantenga las dos manos en la máquina.
caution-cut-off-saw = Un disco de corte puede provocar un rebote, y un disco agrietado estalla. Use discos aptos para la velocidad, mantenga la protección puesta, lleve gafas de protección y mascarilla, y moje el polvo.
caution-battery = Una batería puede quemar, desprender un gas explosivo y dar una corriente muy fuerte. Mantenga lejos las chispas, lleve gafas de protección y use solo el cargador que indica el fabricante.
caution-lithium = No abra, aplaste ni caliente una batería de litio. Si se hincha, huele o se calienta, aléjese y pida ayuda. No la cargue donde duerman personas.
caution-mains = La corriente de la red puede matar. La instalación de la casa, o un generador que la alimente, es trabajo de un electricista autorizado que conozca las normas locales.
caution-capacitor = Un condensador puede guardar una fuerte descarga mucho después de cortar la corriente. Deje las tapas cerradas y confíe el interior a una persona formada.
caution-ignition = El circuito de encendido da una fuerte descarga. Desconecte el cable de la bujía antes de trabajar cerca, para que el motor no pueda arrancar.
caution-pressure = El aire a presión puede reventar lo que lo contiene. Libere la presión antes de trabajar, no bloquee ni modifique nunca una válvula de seguridad y haga revisar los depósitos según las normas locales.
caution-jet = Un chorro fino a alta presión atraviesa la piel y puede costar un miembro. No busque nunca una fuga con la mano. Si un chorro perfora la piel, vaya enseguida a un hospital, aunque la herida parezca pequeña.
caution-lifting = No trabaje nunca bajo una máquina sostenida solo por un gato. Use caballetes aptos para el peso, sobre suelo firme y nivelado.
caution-spring = Un muelle enrollado o comprimido guarda mucha fuerza y puede salir disparado. Déjelo a quien tenga la herramienta adecuada.
caution-brakes = Pruebe los frenos a velocidad de paso antes de cada salida. No use la máquina si la palanca o el pedal están blandos.
caution-wheel = Haga revisar el apriete de las tuercas de rueda tras un trayecto corto, como pide el manual del fabricante.
caution-grinding = Una muela agrietada puede estallar. Use muelas aptas para la velocidad, mantenga la protección puesta y lleve gafas de protección.
caution-chemicals = Evite que los líquidos de taller toquen la piel o lleguen al desagüe, y manténgalos lejos de niños y animales. Lleve los líquidos usados a un punto de recogida.
caution-dust = El polvo fino puede dañar sus pulmones para siempre. Mójelo, lleve una mascarilla ajustada y siga las normas locales.
caution-outboard = Lleve el cordón de paro y mantenga a todos lejos de la hélice. En tierra, haga funcionar el motor solo con agua de refrigeración, como indica el manual del fabricante.
caution-roll-over = Evite las pendientes fuertes, donde la máquina puede volcar. Deje el arco de seguridad levantado y el cinturón puesto.
caution-gas = Un gas que se escapa puede explotar. Si lo huele, cierre el suministro, no toque ningún interruptor y salga. Las tuberías de gas son trabajo de un instalador autorizado.
caution-mobility = Pruebe la máquina en un lugar despejado y llano antes de confiar en ella. Si no se detiene al soltar el mando, deje de usarla y llámenos.
