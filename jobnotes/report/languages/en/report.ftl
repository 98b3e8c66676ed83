# Fixed words of the report. English is the source: fr and es translate these messages by their names.

## What the report is about

story = The story of your repair
story-name = { $title }: the story of your repair
your-machine = Your machine
serial-number = serial number { $serial }
for-customer = For { $name }
job = job { $job }
work-by = work by { $name }
edge = { $title }, job { $job }
page = Page { $number } of { $total }
subject = Job { $job }
logo = Logo of { $name }
logo-of-workshop = Logo of the workshop
draft-line = Draft – not yet checked by the office
draft = This is a draft. The office has not checked it yet.
waiting = { $count ->
    [one] 1 statement waits for the office and is left out here.
   *[other] { $number } statements wait for the office and are left out here.
}

untranslated = No translation for: { $words }

## Sections, in printed order

section-told = What you told us
section-found = What we found
section-tested = How we tested
section-measured = What we measured
    .drawn = The thick part of each line is where a reading should be. A ring is a reading before the work, a dot is any other.
section-cause = Why it happened
section-done = What we did
section-wiring = How it is wired
section-parts = Parts
section-checked = How we checked our work
section-advice = What to do next
section-photos = More photos
section-care = Please take care
    .lead = The maker's manual and the rules where you live come before anything written here. Where they ask for a licensed trade, call one.
section-time = Time it took
section-words = Words of the trade

## Sentences

list-and = { $items } and { $last }
list-or = { $items } or { $last }
quoted = “{ $text }”
symptom-seen = We saw this ourselves: { $text }
symptom-not-seen = We could not bring this about: { $text }
test-expected = What should happen: { $text }
test-observed = What happened: { $text }
test-conclusion = What it means: { $text }
labour = the work took { $time }
measured = { $finding } We measured { $figures }.
measured-against = { $finding } We measured { $figures }; it should be { $limits }.
figure-of = { $name } of { $figure }
lead-we = we
lead-then = then we
lead-first = first we
lead-last = last, we

## Figures

range = { $low } to { $high }
at-least = at least { $figure }
at-most = at most { $figure }

## Readings

column-what = What
column-context = Where and when
column-reading = Reading
within = within limits
below = below the limit
above = above the limit
equal = as it should be
should-be = Should be { $limits }
should-be-by = Should be { $limits } (source: { $source })
phase-before = before
phase-after = after
reading-line = { $name }: { $figure }
drawn = { $name }, drawn on a line: { $readings }.
drawn-against = { $name }, drawn on a line: { $readings }. { $limits }.

## Parts

column-part = Part
column-number = Number
column-part-and-number = Part and number
column-quantity = Quantity
column-fate = What became of it
column-price = Price
fate-installed = Fitted
fate-removed = Taken off
fate-ordered = On order
fate-reused = Kept and used again
fate-quoted = Quoted, not fitted
fate-discarded = Thrown away
in-place-of = In place of number { $number }

## Photos

photo = Photo { $number }. { $caption }
photo-bare = Photo { $number }.
photo-shows = Photo { $number }: { $caption }.
photo-of-machine = Photo { $number } of the work on { $machine }, not described.
photo-of-work = Photo { $number } of the work, not described.
photo-marked = { $photo } Marked on it: { $marks }.
mark-circle = a circle
mark-arrow = an arrow
mark-box = a box
