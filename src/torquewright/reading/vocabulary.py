"""What mechanics call the things they do: verbs with their senses, and the small words around them.

All of it is data, read once on first use. A new word goes here and nowhere else. ``SENSES`` has one line a sense:

    word | particles | when | verb

``particles`` lists small words of which one must stand with the verb (``put … back``); empty means that none is
needed. ``when`` lists facts of the clause of which one must hold (``a+b``: both): a class of thing it is done to
(see ``nouns.py``), or ``torque`` (the clause demands a torque), ``angle`` (a turn), ``hand`` (by hand), ``new``,
``old``, ``lubricant``, ``compound``, ``to-part`` (joined to something), ``nothing`` (no object). The first line
whose particles and facts hold is taken. The verb ``-`` is understood but changes nothing a joint depends on.
"""

from __future__ import annotations

SENSES = """
accept       |                      |                        | -
alert        |                      |                        | -
ask          |                      |                        | -
assist       |                      |                        | -
beware       |                      |                        | -
begin        |                      | torque                 | tighten
begin        |                      |                        | -
bung         | in on                |                        | install
call         |                      |                        | -
choose       |                      |                        | -
chuck        | away out             |                        | discard
chuck        |                      |                        | discard
contact      |                      |                        | -
determine    |                      |                        | -
dig          | out                  |                        | remove
ditch        |                      |                        | discard
ensure       |                      |                        | check
expect       |                      |                        | -
fail         |                      |                        | -
fish         | out                  |                        | remove
forget       |                      |                        | -
hammer       | out                  |                        | remove
hammer       | in home              |                        | install
hook         | out                  |                        | remove
inform       |                      |                        | -
lob          | away out             |                        | discard
neglect      |                      |                        | -
notify       |                      |                        | -
obtain       |                      |                        | -
omit         |                      |                        | leave_out
plug         | off up               | hose                   | -
pop          | off out              |                        | remove
pop          | in on over back      |                        | install
prepare      |                      |                        | -
rack         |                      |                        | -
select       |                      |                        | -
shove        | in on home           |                        | install
sling        | away out             |                        | discard
spare        |                      |                        | -
squirt       |                      |                        | lubricate
tell         |                      |                        | -
think        |                      |                        | -
tug          | off out              |                        | remove
tweak        | up                   |                        | seat
undo         | out off              |                        | remove
unlatch      |                      |                        | loosen
unseal       |                      |                        | remove
unstake      |                      |                        | loosen
whip         | off out              |                        | remove
witness-mark |                      |                        | mark
yank         | off out              |                        | remove
paint-mark   |                      |                        | mark
add          |                      | fluid                  | fill
add          |                      | torque                 | -
add          |                      | washer seal fastener lock | install
add          |                      | lubricant              | lubricate
add          |                      | compound               | seal
add          |                      |                        | -
adjust       |                      |                        | position
advance      |                      | angle                  | tighten_angle
advance      |                      |                        | position
align        |                      |                        | position
allow        |                      | drain-away             | drain
allow        |                      |                        | wait
anoint       |                      |                        | lubricate
apply        |                      | compound               | seal
apply        |                      | lubricant              | lubricate
apply        |                      | torque                 | tighten
apply        |                      |                        | -
arrange      |                      |                        | position
assemble     |                      |                        | install
attach       |                      | hose cable             | connect
attach       |                      |                        | install
back         | off out              | fastener torque angle it | back_off
back         | off out              |                        | back_off
bar          | over                 |                        | -
bed          | in down              | fastener               | seat
bed          |                      |                        | position
bend         | back straight away   |                        | -
bend         |                      | lock tab washer leg prong ear tang tongue end | lock
bend         |                      |                        | -
bin          |                      |                        | discard
bleed        | off down             | pressure               | isolate
bleed        | down                 |                        | isolate
bleed        | off                  | air                    | isolate
bleed        |                      |                        | bleed
block        |                      |                        | support
blow         | off out dry through clean |                   | clean
blow         |                      |                        | -
bolt         |                      |                        | install
break        | loose                |                        | loosen
break        | free                 |                        | loosen
break        |                      | torque seal            | loosen
bring        | up down              | torque                 | tighten
bring        |                      | torque                 | tighten
bring        |                      |                        | position
brush        | on onto              | lubricant              | lubricate
brush        | on onto              | compound               | seal
brush        |                      | soapy                  | check_leak
brush        |                      |                        | clean
build        |                      |                        | -
calculate    |                      |                        | -
cap          |                      |                        | -
carry        |                      |                        | -
centre       |                      |                        | position
change       |                      |                        | replace
charge       |                      | fluid                  | fill
charge       |                      |                        | -
chase        |                      |                        | clean
check        |                      | leak                   | check_leak
check        |                      | level                  | check_level
check        |                      | tightness fastener+torque | retighten
check        |                      | damage                 | inspect
check        | over                 |                        | inspect
check        |                      |                        | check
chock        |                      |                        | support
clamp        |                      | torque                 | tighten
clamp        |                      |                        | install
clean        |                      |                        | clean
clear        |                      |                        | clean
climb        |                      |                        | -
clip         |                      | lock                   | lock
clip         |                      |                        | install
close        |                      | torque                 | tighten
close        |                      | valve                  | isolate
close        |                      |                        | install
coat         |                      | compound               | seal
coat         |                      |                        | lubricate
collect      |                      | fluid                  | drain
collect      |                      |                        | -
come         | off out away         |                        | remove
come         |                      |                        | -
confirm      |                      | leak                   | check_leak
confirm      |                      | level                  | check_level
confirm      |                      | tightness              | retighten
confirm      |                      |                        | check
connect      | up                   |                        | connect
connect      |                      |                        | connect
consult      |                      |                        | refer
continue     |                      | torque                 | tighten
continue     |                      | angle                  | tighten_angle
continue     |                      |                        | -
cool         | down                 |                        | wait
cool         |                      |                        | wait
count        |                      |                        | measure
couple       | up                   |                        | connect
couple       |                      |                        | connect
cover        |                      |                        | -
crack        | off loose open       |                        | loosen
crack        |                      | fastener               | loosen
crank        |                      |                        | -
cure         |                      |                        | wait
cut          |                      | torque                 | -
cut          | off                  | power                  | isolate
cut          |                      | lock                   | remove
cut          |                      |                        | -
dab          |                      | compound               | seal
dab          |                      |                        | lubricate
date         |                      |                        | record
deburr       |                      |                        | clean
degrease     |                      |                        | clean
depressurise |                      |                        | isolate
depressurize |                      |                        | isolate
derust       |                      |                        | clean
destroy      |                      |                        | discard
detach       |                      | hose cable             | disconnect
detach       |                      |                        | remove
dip          |                      | level                  | check_level
dip          |                      | compound               | seal
dip          |                      |                        | lubricate
discharge    |                      | power                  | isolate
discharge    |                      | pressure air           | isolate
discharge    |                      |                        | drain
discard      |                      |                        | discard
disconnect   |                      |                        | disconnect
disengage    |                      |                        | disconnect
dismantle    |                      |                        | remove
dismount     |                      |                        | remove
dispose      |                      |                        | discard
disturb      |                      | fastener               | loosen
disturb      |                      |                        | -
do           | up                   |                        | tighten
do           |                      | same                   | repeat
do           |                      | likewise               | repeat
do           |                      |                        | -
drain        | off out down         |                        | drain
drain        |                      |                        | drain
draw         | off out              | fluid                  | drain
draw         | off out              |                        | remove
draw         | down up in together  |                        | tighten
draw         |                      |                        | -
drive        | out off              |                        | remove
drive        | home in              | fastener               | seat
drive        | home in              |                        | install
drive        |                      | fastener               | seat
drive        |                      |                        | -
drop         | in on into onto over |                        | install
drop         | out off              |                        | remove
drop         |                      | old                    | remove
drop         |                      |                        | position
dry          | off out              |                        | clean
dry          |                      |                        | clean
dump         |                      | fluid                  | drain
dump         |                      | pressure air           | isolate
dump         |                      |                        | discard
earth        |                      |                        | isolate
ease         | off out              | fastener               | loosen
ease         | off out away         |                        | remove
ease         | in on onto into over |                        | install
ease         |                      | fastener               | loosen
ease         |                      |                        | position
empty        | out                  |                        | drain
empty        |                      |                        | drain
energise     |                      |                        | start
energize     |                      |                        | start
engage       |                      | hand                   | hand_start
engage       |                      | fastener threads       | hand_start
engage       |                      |                        | position
ensure       |                      | leak                   | check_leak
ensure       |                      |                        | check
enter        |                      |                        | record
examine      |                      |                        | inspect
exceed       |                      |                        | tighten
exchange     |                      |                        | replace
extract      |                      |                        | remove
fasten       |                      | torque                 | tighten
fasten       |                      | cable                  | position
fasten       | down up              |                        | tighten
fasten       |                      |                        | install
feed         |                      |                        | install
fetch        |                      |                        | -
fill         | up                   |                        | fill
fill         |                      |                        | fill
find         | out                  |                        | check
find         |                      |                        | check
finger-tighten |                    |                        | seat
hand-tighten |                      |                        | seat
finish       |                      | torque                 | tighten
finish       | off                  | torque                 | tighten
finish       |                      | angle                  | tighten_angle
finish       |                      |                        | -
fit          | back                 | washer seal fastener lock part machine cable hose | install
fit          |                      | lockwire               | lock
fit          |                      |                        | install
fix          |                      | torque                 | tighten
fix          |                      |                        | install
flatten      |                      |                        | -
flush        | out                  |                        | clean
flush        |                      |                        | clean
follow       |                      | number                 | refer
follow       |                      |                        | -
free         | off                  | fastener               | loosen
free         |                      | fastener               | loosen
free         |                      |                        | remove
gauge        |                      |                        | measure
get          |                      | torque                 | tighten
get          | off out              |                        | remove
give         |                      | torque                 | tighten
give         |                      | angle                  | tighten_angle
give         |                      | lubricant              | lubricate
go           | round around over    | torque                 | retighten
go           | round around over    | angle                  | tighten
go           | round around over    | fastener               | retighten
go           | on                   | torque                 | tighten
go           | on                   |                        | -
go           |                      | torque                 | tighten
go           | to                   | step                   | refer
go           | in on back           |                        | install
go           |                      |                        | -
grease       | up                   |                        | lubricate
grease       |                      |                        | lubricate
grind        |                      |                        | -
guide        |                      |                        | position
hand-start   |                      |                        | hand_start
hang         | up                   |                        | support
hang         |                      |                        | support
heat         |                      |                        | -
hoist        | out off away         |                        | remove
hoist        |                      |                        | support
hold         |                      | to-part+part           | position
hold         |                      |                        | -
hook         | up                   | cable hose             | connect
hook         |                      |                        | install
idle         |                      |                        | run
immerse      |                      |                        | lubricate
initial      |                      |                        | record
insert       |                      |                        | install
inspect      |                      |                        | inspect
install      |                      |                        | install
investigate  |                      |                        | check
isolate      |                      |                        | isolate
jack         | up                   |                        | support
jack         |                      |                        | support
join         |                      | hose cable             | connect
join         |                      |                        | install
keep         | off away out from    |                        | -
keep         |                      | fastener+again washer+again seal+again lock+again part+again it+again | reuse
keep         |                      |                        | -
knock        | out off              |                        | remove
knock        | in home on           |                        | install
label        |                      |                        | mark
lay          | aside by             |                        | -
lay          |                      | washer seal fastener   | install
lay          | in on                |                        | install
lay          |                      |                        | position
lean         |                      |                        | position
leave        |                      | wait-time              | wait
leave        |                      | finger-tight           | seat
leave        | off out              |                        | leave_out
leave        | on in                |                        | leave_in
leave        |                      | loose                  | leave_loose
leave        |                      |                        | -
let          | down out off         | pressure air           | isolate
let          |                      | drain-away             | drain
let          |                      | fill-up                | fill
let          |                      | run-it                 | run
let          |                      | wait-for               | wait
let          |                      |                        | -
level        |                      |                        | position
lever        | off out              |                        | remove
lift         | off                  | ground floor bench stand | position
lift         | off out away         |                        | remove
lift         |                      |                        | position
line         | up                   |                        | position
locate       |                      | tool                   | -
locate       |                      |                        | position
lock         | off out              |                        | isolate
lock         |                      |                        | lock
lockwire     |                      |                        | lock
log          |                      |                        | record
look         | up                   | table torque           | refer
look         |                      | leak                   | check_leak
look         |                      |                        | inspect
loosen       | off                  |                        | loosen
loosen       |                      |                        | loosen
lower        |                      |                        | position
lubricate    |                      |                        | lubricate
make         | sure certain         | leak                   | check_leak
make         | sure certain         | level                  | check_level
make         | sure certain         |                        | check
make         |                      | fastener               | tighten
mark         |                      |                        | mark
match-mark   |                      |                        | mark
measure      |                      |                        | measure
moisten      |                      |                        | lubricate
mop          | up                   |                        | clean
mount        | on back              |                        | install
mount        |                      |                        | install
move         | on                   |                        | -
move         |                      |                        | position
neutralise   |                      |                        | isolate
nip          | up down              |                        | seat
nip          |                      |                        | seat
note         | down                 |                        | record
note         |                      | statement              | -
note         |                      |                        | record
number       |                      |                        | mark
observe      |                      | leak                   | check_leak
observe      |                      |                        | check
offer        | up                   |                        | position
oil          |                      |                        | lubricate
open         |                      | drain                  | drain
open         |                      | power                  | isolate
open         |                      |                        | -
operate      |                      |                        | run
order        |                      |                        | -
orient       |                      |                        | position
pack         |                      | lubricant              | lubricate
pack         |                      |                        | -
paint        |                      | compound               | seal
paint        |                      | mark                   | mark
paint        |                      | lubricant              | lubricate
paint        |                      |                        | mark
park         |                      |                        | position
part         |                      | hose cable             | disconnect
part         |                      |                        | remove
pass         |                      |                        | install
peel         | off away back        |                        | remove
peel         |                      |                        | remove
peen         |                      |                        | lock
photograph   |                      |                        | mark
pick         | off out up           |                        | remove
pick         |                      |                        | -
pin          |                      | fastener               | lock
pin          |                      | machine                | support
pin          |                      |                        | install
pinch        | up                   | fastener               | seat
place        |                      | washer seal fastener   | install
place        | back                 |                        | install
place        |                      | support                | support
place        |                      |                        | position
plug         | in back              |                        | connect
plug         |                      | cable                  | connect
plug         |                      |                        | -
point        |                      |                        | position
polish       |                      |                        | clean
position     |                      |                        | position
postpone     |                      |                        | -
pour         | away out off         | fluid                  | drain
pour         |                      |                        | fill
power        | down off             |                        | isolate
power        | up on                |                        | start
press        | out off              |                        | remove
press        | home in on           |                        | install
press        | into onto over       |                        | install
press        |                      | button switch          | start
press        |                      |                        | position
pressure-test |                     |                        | check_leak
leak-test    |                      |                        | check_leak
pressurise   |                      |                        | -
pressurize   |                      |                        | -
prevent      |                      |                        | -
prime        |                      |                        | bleed
prise        | off out apart        |                        | remove
prop         | up                   |                        | support
protect      |                      |                        | -
prove        |                      | dead                   | isolate
prove        |                      |                        | check
pry          | off out apart        |                        | remove
pull         | off out away         |                        | remove
pull         | down up in           | fastener               | tighten
pull         |                      | torque                 | tighten
pull         | up                   | torque                 | tighten
pull         |                      | plug power             | isolate
pull         |                      |                        | position
pump         | out                  | fluid                  | drain
pump         |                      | fluid lubricant        | fill
pump         |                      |                        | -
punch        |                      | mark                   | mark
punch        | out                  |                        | remove
purge        |                      |                        | bleed
push         | out off              |                        | remove
push         | in on home onto over into |                   | install
push         | back                 |                        | position
push         |                      | button                 | start
push         |                      |                        | position
put          | aside by away        |                        | -
put          |                      | lubricant              | lubricate
put          |                      | compound               | seal
put          |                      | fluid                  | fill
put          |                      | container              | -
put          |                      |                        | install
raise        |                      | power                  | -
raise        |                      |                        | position
re-torque    |                      |                        | retighten
re-tighten   |                      |                        | retighten
read         |                      | level                  | check_level
read         | off                  |                        | measure
read         |                      | tool                   | -
read         |                      | number                 | refer
read         |                      |                        | measure
reassemble   |                      |                        | install
recheck      |                      | leak                   | check_leak
recheck      |                      | level                  | check_level
recheck      |                      | tightness fastener torque nothing it | retighten
recheck      |                      |                        | check
recommission |                      |                        | start
reconnect    |                      |                        | connect
record       |                      |                        | record
reduce       |                      | torque                 | tighten
reduce       |                      |                        | -
refer        |                      |                        | refer
refill       |                      |                        | fill
refit        |                      |                        | install
refix        |                      |                        | install
reinstall    |                      |                        | install
reject       |                      |                        | discard
relax        |                      |                        | loosen
release      |                      | pressure air spring    | isolate
release      |                      | brake                  | -
release      |                      | hose cable             | disconnect
release      |                      | fastener               | loosen
release      |                      |                        | -
relieve      |                      | fastener               | loosen
relieve      |                      |                        | isolate
remount      |                      |                        | install
remove       |                      | dirt                   | clean
remove       |                      |                        | remove
renew        |                      |                        | replace
repeat       |                      |                        | repeat
replace      | with                 |                        | replace
replace      |                      |                        | replace?
replenish    |                      |                        | fill
report       |                      |                        | record
reroute      |                      |                        | position
reseat       |                      |                        | position
reset        |                      |                        | -
rest         |                      |                        | position
restart      |                      |                        | start
restore      |                      | power                  | start
restore      |                      |                        | -
retain       |                      | fastener washer seal lock part it | reuse
retighten    |                      |                        | retighten
retorque     |                      |                        | retighten
return       |                      | torque                 | tighten
return       |                      | number                 | refer
return       |                      | fastener washer seal lock | install
return       |                      |                        | -
reuse        |                      |                        | reuse
re-use       |                      |                        | reuse
reverse      |                      |                        | repeat
rinse        | off out              |                        | clean
rinse        |                      |                        | clean
rock         |                      |                        | -
roll         | in into on onto      |                        | install
roll         |                      |                        | position
rotate       |                      | fastener+angle nothing+angle it+angle | tighten_angle
rotate       |                      |                        | -
route        |                      |                        | position
rub          | down off             |                        | clean
rub          | in into              |                        | lubricate
rub          |                      | compound               | seal
rub          |                      | lubricant              | lubricate
run          | up down in on home   | fingers                | hand_start
run          | up down in on home   | fastener it            | seat
run          | out off              | fastener               | remove
run          | out                  |                        | drain
run          | up                   |                        | run
run          |                      | fastener+to-part       | seat
run          |                      |                        | run
safety-wire  |                      |                        | lock
save         |                      |                        | reuse
scrap        |                      |                        | discard
scrape       | off away             |                        | clean
scrape       |                      |                        | clean
screw        | down up home tight   | torque                 | tighten
screw        | in home down up      | finger-tight           | seat
screw        | home down            |                        | seat
screw        | in into on onto      | hand                   | hand_start
screw        | out off              |                        | remove
screw        |                      | torque                 | tighten
screw        |                      |                        | install
scribe       |                      |                        | mark
seal         |                      |                        | seal
seat         |                      | torque                 | seat
seat         |                      | fastener it            | seat
seat         |                      | seal washer            | install
seat         |                      |                        | position
secure       |                      | lock                   | lock
secure       |                      | torque                 | tighten
secure       |                      | cable hose             | position
secure       |                      |                        | install
see          |                      | number                 | refer
see          |                      |                        | check
send         |                      |                        | -
separate     |                      |                        | remove
set          | aside by             |                        | -
set          | on in back           |                        | install
set          |                      | tool                   | -
set          |                      | torque                 | tighten
set          |                      | seal washer            | install
set          |                      | fluid                  | check_level
set          |                      |                        | position
shake        |                      |                        | -
shim         |                      |                        | position
show         |                      |                        | -
shut         | down off             | machine nothing        | stop
shut         |                      |                        | isolate
sign         | off                  |                        | record
sign         |                      |                        | record
skim         |                      |                        | -
slack        | off                  |                        | loosen
slacken      | off                  |                        | loosen
slacken      |                      |                        | loosen
slew         |                      |                        | position
slide        | off out away         |                        | remove
slide        | on in back onto into over |                   | install
slide        |                      |                        | position
sling        |                      |                        | support
slip         | off out              |                        | remove
slip         | on in over onto into |                        | install
slip         |                      |                        | install
smear        |                      | compound               | seal
smear        |                      |                        | lubricate
snug         | up down              |                        | seat
snug         |                      |                        | seat
soak         |                      |                        | lubricate
sort         |                      |                        | -
spin         | off out              |                        | remove
spin         | on in down up        | fingers                | hand_start
spin         | on in down up        |                        | seat
spin         |                      |                        | check
split-pin    |                      |                        | lock
spray        | on onto              | lubricant              | lubricate
spray        |                      | soapy                  | check_leak
spray        |                      | lubricant              | lubricate
spray        |                      |                        | -
spread       |                      | lubricant              | lubricate
spread       |                      | compound               | seal
spread       |                      | lock                   | lock
square       | up                   |                        | position
stake        |                      |                        | lock
stand        |                      | wait-time              | wait
stand        |                      |                        | position
start        |                      | hand fingers           | hand_start
start        |                      | torque                 | tighten
start        | up                   |                        | start
start        |                      | fastener threads       | hand_start
start        |                      | machine                | start
start        |                      | it                     | start-it
start        |                      | nothing                | -
start        |                      |                        | start
stay         |                      | fastener lock seal washer part | leave_in
stay         |                      |                        | -
steady       |                      |                        | support
step         |                      |                        | -
stick        | in                   | hand+fastener          | hand_start
stick        |                      |                        | install
stop         |                      | machine nothing it     | stop
stop         |                      |                        | stop
store        |                      |                        | -
straighten   |                      | nothing-at-all         | -
straighten   |                      |                        | -
strike       |                      |                        | -
strip        | off down             |                        | remove
strip        |                      | dirt                   | clean
strip        |                      |                        | remove
subject      |                      |                        | -
substitute   |                      |                        | replace
support      |                      |                        | support
suspend      |                      |                        | support
swab         | out                  |                        | clean
swap         |                      |                        | replace
sweep        |                      |                        | clean
swing        |                      |                        | position
switch       | off                  |                        | isolate
switch       | on                   |                        | start
tag          |                      |                        | mark
take         | off out down away    |                        | remove
take         |                      | load                   | support
take         | up                   | slack                  | seat
take         |                      | torque                 | tighten
take         |                      | reading                | measure
take         |                      | care                   | -
take         |                      | photograph             | mark
take         |                      | key person time        | -
tap          | out                  |                        | remove
tap          | home in on           |                        | position
tap          |                      |                        | position
tape         | aside back up over away down |           | -
tape         |                      | compound fastener threads | seal
tape         |                      |                        | -
test         |                      | leak                   | check_leak
test         |                      | dead                   | isolate
test         |                      |                        | check
thread       | off out              |                        | remove
thread       | in on into onto      | hand                   | hand_start
thread       | in on into onto      | fastener               | hand_start
thread       |                      |                        | install
throw        | away out             |                        | discard
tie          |                      |                        | position
tighten      | up down              |                        | tighten
tighten      |                      |                        | tighten
tilt         |                      |                        | position
tip          | out away             | fluid                  | drain
tip          |                      |                        | position
top          | up                   |                        | fill
torque       | up down              |                        | tighten
torque       |                      |                        | tighten
toss         |                      |                        | discard
touch        | up                   |                        | -
trim         |                      |                        | -
try          |                      |                        | check
turn         | off                  |                        | isolate
turn         | on                   | power machine          | start
turn         | on                   | angle                  | tighten_angle
turn         | over                 |                        | -
turn         | back out             | fastener+angle it+angle | back_off
turn         | in home down         | fingers hand           | hand_start
turn         |                      | loosening              | loosen
turn         |                      | tightening             | tighten
turn         |                      | fastener+angle nothing+angle it+angle feature+angle | tighten_angle
turn         |                      | torque+fastener torque+it | tighten
turn         |                      |                        | -
twist        | off out              |                        | remove
twist        |                      |                        | -
unbolt       |                      |                        | remove
unclip       |                      | lock                   | remove
unclip       |                      |                        | disconnect
uncouple     |                      |                        | disconnect
undo         |                      |                        | loosen
unfasten     |                      |                        | loosen
unhook       |                      |                        | remove
unlock       |                      |                        | -
unplug       |                      | cable                  | disconnect
unplug       |                      |                        | isolate
unpin        |                      |                        | remove
unscrew      |                      |                        | remove
unseat       |                      |                        | loosen
untighten    |                      |                        | loosen
unwind       |                      | fastener               | remove
use          |                      | tool                   | use-tool
use          |                      | lubricant              | lubricate
use          |                      | compound               | seal
use          | again                |                        | reuse
use          |                      | torque                 | tighten
use          |                      | washer seal fastener lock | install
use          |                      |                        | -
vent         | off                  |                        | isolate
vent         |                      |                        | isolate
verify       |                      | leak                   | check_leak
verify       |                      | level                  | check_level
verify       |                      | tightness              | retighten
verify       |                      |                        | check
view         |                      |                        | inspect
wait         |                      |                        | wait
warm         | up                   |                        | run
warm         |                      |                        | run
wash         | off out              |                        | clean
wash         |                      |                        | clean
watch        |                      | leak                   | check_leak
watch        |                      |                        | check
wear         |                      |                        | -
weigh        |                      |                        | measure
wet          |                      |                        | lubricate
wind         | off out              |                        | remove
wind         | in on up down        | fingers hand           | hand_start
wind         | in on up down        | fastener               | seat
wind         |                      |                        | -
wipe         | on onto              | lubricant              | lubricate
wipe         |                      |                        | clean
wire         | up                   | cable                  | connect
wire         |                      | fastener               | lock
wire         |                      |                        | -
wire-lock    |                      |                        | lock
withdraw     |                      |                        | remove
work         | off out loose        |                        | remove
work         | in on into           |                        | install
work         |                      |                        | -
wrap         |                      | compound               | seal
wrap         |                      |                        | -
write        | down                 |                        | record
write        |                      |                        | record
"""

IRREGULAR = {
    "begin": "began begun", "bend": "bent", "bleed": "bled", "blow": "blew blown", "break": "broke broken",
    "bring": "brought", "build": "built", "come": "came come", "cut": "cut", "do": "did done", "draw": "drew drawn",
    "drive": "drove driven", "feed": "fed", "find": "found", "fit": "fitted fit", "get": "got", "give": "gave given",
    "go": "went gone", "grind": "ground", "hang": "hung", "hold": "held", "keep": "kept", "lay": "laid",
    "leave": "left", "let": "let", "make": "made", "put": "put", "read": "read", "see": "saw seen", "send": "sent",
    "set": "set", "shake": "shook shaken", "show": "showed shown", "shut": "shut", "slide": "slid",
    "spin": "spun", "split": "split", "spread": "spread", "stand": "stood", "stick": "stuck", "strike": "struck",
    "sweep": "swept", "swing": "swung", "take": "took taken", "throw": "threw thrown", "undo": "undid undone",
    "unwind": "unwound", "wear": "wore worn", "wet": "wetted wet", "wind": "wound", "withdraw": "withdrew withdrawn",
    "write": "wrote written", "refit": "refitted refit", "reset": "reset", "overtighten": "overtightened",
}  # fmt: skip

# verbs of statements: they tell what is so and demand nothing
STATEMENT_VERBS = """
be have take need want require must contain carry hold weigh deliver read show give mean say lie sit stand stay come
go run turn work move touch rub meet reach exceed apply assume differ vary fly strip crack tear leak weep drip fail
stop tighten kill hurt burn scald cause lead become remain seem look depend belong fit bear click slip stick drop rise
fall grow expand shrink settle harden cure set open close allow let make keep clear pass jam seize bind damage ruin
share serve act rest hang point face agree exist arrive drag release lift lower see feel
"""

MODALS = "must shall should may might can could will would cannot can't mustn't shouldn't won't shan't needn't"
AUXILIARIES = "is are was were be been being am has have had having does did do isn't aren't wasn't weren't"
NEGATIONS = "not never don't doesn't didn't no neither nor without cannot can't mustn't shouldn't won't needn't"

DETERMINERS = """
the a an this that these those its their his her your our my any no each every all both some another either
neither other such whichever whatever the
"""
PRONOUNS = "it they them these those this that both one ones each all any none everything nothing something some you"
PREPOSITIONS = """
to with without by at from in into on onto of off for under over between through against round around along across
below above behind beside near inside outside after before until till during per via within about than as towards
toward beneath among beyond past except using next opposite like nearest closest alongside
"""
PARTICLES = "off out up down in on back away aside apart home loose free tight over round around together through by"
CONJUNCTIONS = "and or but nor then plus & yet"
SUBORDINATORS = """
if when where once after before until till unless while whilst because since as so although though provided
whenever wherever otherwise lest should whether
"""
ADVERBS = """
now first firstly last lastly finally next again also too only just still yet already later carefully slowly quickly
gently evenly gradually crosswise criss-cross diagonally alternately securely firmly fully completely freely loosely
lightly thoroughly progressively sequentially always exactly immediately simultaneously together once twice thrice
here there please clockwise anticlockwise counterclockwise counter-clockwise afterwards afterward thereafter meanwhile
upright outward outwards inward inwards upward upwards downward downwards sideways forward forwards backward backwards
respectively properly correctly well hard so far further more much less very quite nearly almost about approximately
roughly separately individually instead otherwise altogether throughout beforehand hereafter subsequently soon
straight square flush dry-side finger-tight hand-tight tightly snugly aside overnight briefly normally manually
vertically horizontally squarely beneath underneath likewise ever anyway elsewhere alone halfway partly slightly
regularly nicely neatly additionally preferably equally uniformly momentarily initially directly therefore thus
however even too enough maximum minimum max min eventually originally usually
"""
NUMBER_WORDS = {
    "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19, "twenty": 20, "twenty-four": 24, "thirty": 30, "forty": 40,
    "fifty": 50, "sixty": 60, "dozen": 12,
}  # fmt: skip
ORDINALS = """
first second third fourth fifth sixth seventh eighth last next final previous other remaining same next-to-last
"""

NEW_WORDS = "new fresh brand-new unused another replacement"
OLD_WORDS = "old used original existing same removed previous worn old-style"
ADJECTIVES = """
upper lower top bottom left right front rear inner outer side middle centre center long short longer shorter large
small larger smaller big bigger thick thin wide narrow clean dry wet oiled greased lubricated plain flat round square
loose tight free open closed full empty half hollow solid soft hard hot cold warm cool light heavy clear dirty rusty
damaged cracked torn nicked worn bent broken scored stretched corroded bare plastic metal metallic rubber copper brass
steel stainless aluminium nylon fibre paper cast hardened coated plated slotted countersunk self-locking
prevailing-torque left-hand right-hand lint-free blunt sharp fine coarse correct proper suitable necessary special
specified given stated required ordinary normal usual fast slow high low good bad whole entire single double
opposite adjacent outermost innermost central remaining non-metallic sealing retaining locking threaded captive
spare common lockable adjustable calibrated electric electrical electronic hydraulic pneumatic mechanical negative
positive live dead level upright finger-tight hand-tight external internal main safe nearest furthest farthest highest lowest earlier later
"""

# words that fuse into one: what they count as
PHRASES = {
    "adverb": """
        by hand|hand tight|finger tight|once more|one more time|in turn|at a time|for the time being|as well|at once|
        in place|in position|at first|at last|at all|all round|all around|all over|end to end|in rotation|each time|
        straight away|right away|at rest|in use|at work|so far|no more|no further|and no more|to be on the safe side|in sequence|
        in steps|in stages|in any case|up to date|of course|for now|in all|
        in the same way|in the same manner|the same way|as before|as above|as described|as follows|in that order|in this order|
        in the order given|in order|face to face|to and fro|back and forth|at random|at least once|at right angles|
        if necessary|if required|if need be|where necessary|as necessary|as required|if possible|when ready|if present|
        if fitted|where fitted|if any|if applicable|if used|when dry|when cold|when cool|while hot|when hot|when finished|
        at the same time|in the meantime|one at a time|a little at a time|bit by bit|little by little|one by one|
        two at a time|step by step|off load|on load|under load|no load|at idle|not yet|no longer|in pairs|with care|per hand|in advance|by feel|by eye
    """,
    "subordinator": "so that|as soon as|as long as|in case|provided that|now that|even if|only if|only when|only after|only once|in order that|not until|such that|immediately after|directly after|immediately before|just before|every time|each time that|in the event that",
    "preposition": "in case of|instead of|rather than|because of|due to|prior to|together with|along with|as well as|by means of|with the aid of|with the help of|in accordance with|according to|up to|down to|out of|in front of|on top of|next to|apart from|except for|with the exception of|in addition to|on to|in to|such as|in line with|as per|as far as|other than|in favour of|in the event of|at the level of|by way of|away from|in place of|as part of",
    "negation": "don't even think about|do not even think about|don't think of|do not think about|resist the urge to|there is no reason to|no reason to|no call to|there's no need to|do not attempt to|don't try to|do not try to|never attempt to|never try to|do not|does not|did not|must not|shall not|should not|may not|can not|is not to be|are not to be|need not|under no circumstances|on no account|in no case|at no time|no need to|not necessary to|never ever|do n't|is not necessary to|are not necessary to|there is no need to|it is not necessary to|you need not|not allowed to|not permitted to|be careful not to|take care not to|refrain from|avoid",
    "demand": "make sure|be sure|make certain|be certain|take care|be careful|see to it",
}

SIGNAL_WORDS = (
    "DANGER", "WARNING", "CAUTION", "NOTICE", "NOTE", "IMPORTANT", "ATTENTION", "SAFETY", "REMARK", "TIP", "INFO",
    "HINT", "REMINDER",
)  # fmt: skip

# what a light verb gives, has or takes ("give the threads a wipe"): the noun tells what is done
ACTION_NOUNS = {
    "lubricate": "squirt drop film coat coating smear dab lick touch dose spot",
    "clean": "wipe clean scrub rinse wash brush blow going-over",
    "inspect": "look inspection once-over examination",
    "check": "check test try shake wiggle",
    "seat": "nip tweak pinch",
    "tighten": "pull tighten",
}
