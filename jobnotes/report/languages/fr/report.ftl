# Mots fixes du rapport en français international.

## What the report is about

story = Le récit de votre réparation
story-name = { $title } : le récit de votre réparation
your-machine = Votre machine
serial-number = numéro de série { $serial }
for-customer = Pour { $name }
job = dossier { $job }
work-by = travaux de { $name }
edge = { $title }, dossier { $job }
page = Page { $number } sur { $total }
subject = Dossier { $job }
logo = Logo de { $name }
logo-of-workshop = Logo de l'atelier
draft-line = Projet – pas encore vérifié par le bureau
draft = Ceci est un projet. Le bureau ne l'a pas encore vérifié.
waiting = { $count ->
    [one] { $number } énoncé attend l'avis du bureau et n'est pas imprimé ici.
   *[other] { $number } énoncés attendent l'avis du bureau et ne sont pas imprimés ici.
}

untranslated = Sans traduction : { $words }

## Sections, in printed order

section-told = Ce que vous nous avez dit
section-found = Ce que nous avons constaté
section-tested = Nos essais
section-measured = Nos mesures
    .drawn = La partie épaisse de chaque ligne montre où la mesure devrait se trouver. Un cercle vide est une mesure prise avant les travaux, un point plein toute autre mesure.
section-cause = Pourquoi c'est arrivé
section-done = Ce que nous avons fait
section-wiring = Le câblage
section-parts = Pièces
section-checked = Comment nous avons vérifié notre travail
section-advice = Ce qu'il faut faire ensuite
section-photos = Autres photos
section-care = Soyez prudent
    .lead = Le manuel du constructeur et les règles en vigueur chez vous priment sur tout ce qui est écrit ici. S'ils exigent un professionnel agréé, faites appel à lui.
section-time = Temps de travail
section-words = Mots du métier

## Sentences

list-and = { $items } et { $last }
list-or = { $items } ou { $last }
quoted = « { $text } »
symptom-seen = Nous l'avons constaté nous-mêmes : { $text }
symptom-not-seen = Nous n'avons pas pu reproduire le défaut : { $text }
test-expected = Résultat attendu : { $text }
test-observed = Résultat obtenu : { $text }
test-conclusion = Conclusion : { $text }
labour = le travail a pris { $time }
measured = { $finding } Nous avons mesuré { $figures }.
measured-against = { $finding } Nous avons mesuré { $figures } ; valeur prescrite : { $limits }.
figure-of = { $name } de { $figure }
lead-we = nous avons
lead-then = ensuite, nous avons
lead-first = d'abord, nous avons
lead-last = enfin, nous avons

## Sentences from the words of the trade; English words without translation are quoted

said = « { $words } »
called = élément nommé { $name }
without = pas { $what }
finding-is = { $thing } { $number ->
    [one] était
   *[other] étaient
} { $state }
finding-is-not = { $thing } { $number ->
    [one] n'était pas
   *[other] n'étaient pas
} { $state }
finding-has = { $thing } { $number ->
    [one] présentait
   *[other] présentaient
} { $state }
finding-lacks = { $thing } { $number ->
    [one] ne présentait pas
   *[other] ne présentaient pas
} { $state }
finding-does = { $thing } { $state }
finding-none = il n'y avait pas { $what }
finding-quoted = { $thing } : { $said }
cause = la cause : { $said }
decision = choix retenu : { $chosen }
decision-over = , plutôt que { $others }
decision-because = . La raison : { $why }
wire = un fil{ $colour } va { $way }
wire-for = . Il sert à ceci : { $use }
again = { $number ->
    [one] l'avons { $verb }{ $gender ->
        [f] e
       *[m] {""}
    }
   *[other] les avons { $verb }{ $gender ->
        [f] es
       *[m] s
    }
}
deed-quoted = fait ceci : { $said }
to-torque = {" "}au couple de { $figures }
to-value = {" "}à { $figures }
with-figures =  : { $figures }

## Figures

range = de { $low } à { $high }
at-least = au moins { $figure }
at-most = au plus { $figure }

## Readings

column-what = Grandeur
column-context = Où et quand
column-reading = Mesure
within = dans les limites
below = sous la limite
above = au-dessus de la limite
equal = comme prescrit
should-be = Valeur prescrite : { $limits }
should-be-by = Valeur prescrite : { $limits } (source : { $source })
phase-before = avant
phase-after = après
reading-line = { $name } : { $figure }
drawn = { $name }, sur une ligne graduée : { $readings }.
drawn-against = { $name }, sur une ligne graduée : { $readings }. { $limits }.

## Parts

column-part = Pièce
column-number = Référence
column-part-and-number = Pièce et référence
column-quantity = Quantité
column-fate = Ce qu'elle est devenue
column-price = Prix
fate-installed = Montée
fate-removed = Déposée
fate-ordered = Commandée
fate-reused = Conservée et réutilisée
fate-quoted = Sur devis, non montée
fate-discarded = Mise au rebut
in-place-of = Remplace la référence { $number }

## Photos

photo = Photo { $number }. { $caption }
photo-bare = Photo { $number }.
photo-shows = Photo { $number } : { $caption }.
photo-of-machine = Photo { $number } des travaux sur { $machine }, sans description.
photo-of-work = Photo { $number } des travaux, sans description.
photo-marked = { $photo } Repéré sur la photo par { $marks }.
mark-circle = un cercle
mark-arrow = une flèche
mark-box = un cadre
