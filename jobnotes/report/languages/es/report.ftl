# Palabras fijas del informe en español internacional.

## What the report is about

story = La historia de su reparación
story-name = { $title }: la historia de su reparación
your-machine = Su máquina
serial-number = número de serie { $serial }
for-customer = Para { $name }
job = trabajo { $job }
work-by = realizado por { $name }
edge = { $title }, trabajo { $job }
page = Página { $number } de { $total }
subject = Trabajo { $job }
logo = Logotipo de { $name }
logo-of-workshop = Logotipo del taller
draft-line = Borrador: la oficina aún no lo ha revisado
draft = Esto es un borrador. La oficina aún no lo ha revisado.
waiting = { $count ->
    [one] { $number } dato espera a la oficina y no se imprime aquí.
   *[other] { $number } datos esperan a la oficina y no se imprimen aquí.
}

untranslated = Sin traducción: { $words }

## Sections, in printed order

section-told = Lo que usted nos contó
section-found = Lo que encontramos
section-tested = Nuestras pruebas
section-measured = Lo que medimos
    .drawn = La parte gruesa de cada línea muestra dónde debería estar la medida. Un círculo vacío es una medida anterior al trabajo; un punto lleno, cualquier otra.
section-cause = Por qué ocurrió
section-done = Lo que hicimos
section-wiring = El cableado
section-parts = Piezas
section-checked = Cómo comprobamos nuestro trabajo
section-advice = Qué hacer a partir de ahora
section-photos = Más fotos
section-care = Tenga cuidado
    .lead = El manual del fabricante y las normas de su lugar de residencia prevalecen sobre todo lo escrito aquí. Si exigen un profesional autorizado, llame a uno.
section-time = Tiempo de trabajo
section-words = Palabras del oficio

## Sentences

list-and = { $items } y { $last }
list-or = { $items } o { $last }
quoted = «{ $text }»
symptom-seen = Lo vimos nosotros mismos: { $text }
symptom-not-seen = No pudimos reproducir el fallo: { $text }
test-expected = Resultado esperado: { $text }
test-observed = Resultado obtenido: { $text }
test-conclusion = Conclusión: { $text }
labour = el trabajo llevó { $time }
measured = { $finding } Medimos { $figures }.
measured-against = { $finding } Medimos { $figures }; valor prescrito: { $limits }.
figure-of = { $name } de { $figure }
lead-we = {""}
lead-then = después
lead-first = primero
lead-last = por último,

## Sentences from the words of the trade; English words without translation are quoted

said = «{ $words }»
called = elemento llamado { $name }
without = sin { $what }
finding-is = { $thing } { $number ->
    [one] estaba
   *[other] estaban
} { $state }
finding-is-not = { $thing } { $number ->
    [one] no estaba
   *[other] no estaban
} { $state }
finding-has = { $thing } { $number ->
    [one] presentaba
   *[other] presentaban
} { $state }
finding-lacks = { $thing } { $number ->
    [one] no presentaba
   *[other] no presentaban
} { $state }
finding-does = { $thing } { $state }
finding-none = no había { $what }
finding-quoted = { $thing }: { $said }
cause = la causa: { $said }
decision = elección: { $chosen }
decision-over = , en lugar de { $others }
decision-because = . El motivo: { $why }
wire = un cable{ $colour } va { $way }
wire-for = . Sirve para esto: { $use }
again = { $number ->
    [one] { $gender ->
        [f] la
       *[m] lo
    } { $verb }
   *[other] { $gender ->
        [f] las
       *[m] los
    } { $verb }
}
deed-quoted = hicimos esto: { $said }
to-torque = {" "}a un par de { $figures }
to-value = {" "}a { $figures }
with-figures = : { $figures }

## Figures

range = de { $low } a { $high }
at-least = al menos { $figure }
at-most = como máximo { $figure }

## Readings

column-what = Magnitud
column-context = Dónde y cuándo
column-reading = Medida
within = dentro de los límites
below = por debajo del límite
above = por encima del límite
equal = según lo prescrito
should-be = Valor prescrito: { $limits }
should-be-by = Valor prescrito: { $limits } (fuente: { $source })
phase-before = antes
phase-after = después
reading-line = { $name }: { $figure }
drawn = { $name }, sobre una línea graduada: { $readings }.
drawn-against = { $name }, sobre una línea graduada: { $readings }. { $limits }.

## Parts

column-part = Pieza
column-number = Referencia
column-part-and-number = Pieza y referencia
column-quantity = Cantidad
column-fate = Qué se hizo con ella
column-price = Precio
fate-installed = Montada
fate-removed = Desmontada
fate-ordered = Pedida
fate-reused = Conservada y reutilizada
fate-quoted = Presupuestada, no montada
fate-discarded = Desechada
in-place-of = Sustituye a la referencia { $number }

## Photos

photo = Foto { $number }. { $caption }
photo-bare = Foto { $number }.
photo-shows = Foto { $number }: { $caption }.
photo-of-machine = Foto { $number } del trabajo en { $machine }, sin descripción.
photo-of-work = Foto { $number } del trabajo, sin descripción.
photo-marked = { $photo } Señalado en la foto con { $marks }.
mark-circle = un círculo
mark-arrow = una flecha
mark-box = un recuadro
