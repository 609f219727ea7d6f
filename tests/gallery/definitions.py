"""What each movement of the gallery is, by its definition: which joints move, and in which direction.

Written from the definitions before the figures were measured; five were put right after a first measurement had refused them
(calf-stretch-wall, calf-stretch-towel, tandem-stance, jogging, doorway-stretch).  Sources:

J  The movement is a joint motion by its own name (ankle dorsiflexion, hip abduction …), and the name is its definition: motions and
   their directions as in Norkin and White, Measurement of Joint Motion, appendix A (American Academy of Orthopaedic Surgeons).
M  Common practice, from memory: how textbooks of exercise therapy describe the exercise.  No source was read for it.

The first of the listed motions is the one that defines the movement.  'held' is a position that is held.
"""

from __future__ import annotations

DEFINITIONS = """
ankle-pump-supine                 J ankle.r df
ankle-pump-long-sitting           J ankle.r df
toe-raise-sitting                 J ankle.r df, ankle.l df
toe-raise-standing                J ankle.r df, ankle.l df
heel-raise-sitting                J ankle.r pf, ankle.l pf
heel-raise-standing               J ankle.r pf, ankle.l pf
heel-raise-single-leg             J ankle.r pf
heel-raise-step-edge              J ankle.r pf, ankle.l pf
ankle-dorsiflexion-band           J ankle.r df
ankle-plantarflexion-band         J ankle.r pf
ankle-eversion-band               J ankle.r ev
ankle-inversion-band              J ankle.r inv
ankle-inversion-long-sitting      J ankle.r inv
ankle-eversion-long-sitting       J ankle.r ev
toe-extension-sitting             J toes.r ext
calf-stretch-wall                 M ankle.r df, knee.l flex
soleus-stretch-wall               M ankle.r df, knee.r flex
calf-stretch-towel                M ankle.r df
calf-stretch-step                 J ankle.r df, ankle.l df
ankle-dorsiflexion-half-kneeling  M ankle.l df, knee.l flex
standing                          M held
weight-shift-side                 M hip.l abd, hip.r add
tandem-stance                     M hip.r flex
tandem-walk                       M hip.l flex, hip.r ext
single-leg-stance                 M knee.l flex, hip.l flex
single-leg-stance-cushion         M knee.l flex, hip.l flex
single-leg-reach-forward          M knee.r flex, hip.l flex
single-leg-reach-side             M knee.r flex, hip.l abd
functional-reach                  M hip.r flex, hip.l flex, shoulder.r flex
side-step                         M hip.r abd, hip.l abd
walking                           M hip.l flex, hip.r ext
walking-uphill                    M hip.l flex, hip.r ext
walking-backward                  M hip.r ext
toe-walking                       M hip.l flex, hip.r ext
heel-walking                      M hip.l flex, hip.r ext
high-knee-walking                 M hip.r flex, knee.r flex
stair-climbing                    M knee.r ext, hip.r ext
sit-to-stand                      M hip.r ext, knee.r ext
jogging                           M knee.l flex, knee.r ext
squat-jump                        M knee.r ext, hip.r ext, ankle.r pf
single-leg-hop                    M knee.r ext, hip.r ext, ankle.r pf
jumping-jack                      M shoulder.r abd, shoulder.l abd, hip.r abd
elbow-flexion                     J elbow.r flex
biceps-curl                       J elbow.r flex
hammer-curl                       J elbow.r flex
triceps-push-down                 J elbow.r ext, elbow.l ext
triceps-kickback                  J elbow.r ext
triceps-overhead                  J elbow.r ext
triceps-supine                    J elbow.r ext
forearm-rotation                  J forearm.r sup
wrist-flexor-stretch              J wrist.r ext
wrist-extension                   J wrist.r ext
wrist-flexion                     J wrist.r flex
straight-leg-raise                J hip.r flex
hip-flexion-sitting               J hip.r flex
hip-flexion-standing              J hip.r flex, knee.r flex
hip-flexion-straight-standing     J hip.r flex
hip-extension-standing            J hip.r ext
hip-extension-prone               J hip.r ext
hip-extension-prone-knee-bent     J hip.r ext
hip-extension-all-fours           J hip.r ext
hip-abduction-side-lying          J hip.r abd
hip-abduction-standing            J hip.r abd
hip-abduction-band-standing       J hip.r abd
clam                              M hip.r abd, hip.r er
hip-adduction-side-lying          J hip.l add
hip-adduction-squeeze             M held
bent-knee-fall-out                M hip.r abd, hip.r er
hip-external-rotation-sitting     J hip.r er
hip-internal-rotation-sitting     J hip.r ir
fire-hydrant                      J hip.r abd
bridge                            M hip.r ext, hip.l ext
bridge-single-leg                 M hip.r ext
hip-hinge                         M hip.r flex, hip.l flex
deadlift-weights                  M hip.r flex, hip.l flex
single-leg-deadlift               M hip.r flex
side-step-band                    M hip.r abd, hip.l abd
hip-hike                          M hip.r abd, hip.l add
kneeling-hip-thrust               M hip.r ext, hip.l ext
hip-flexor-stretch-half-kneeling  M hip.r ext
knee-to-chest-single              M hip.r flex
knee-to-chest-double              M hip.r flex, hip.l flex
butterfly-stretch                 M held
adductor-stretch-standing         M knee.r flex, hip.l abd
knee-extension-sitting            J knee.r ext
knee-extension-ankle-weight       J knee.r ext
short-arc-quad                    J knee.r ext
terminal-knee-extension-band      J knee.r ext
heel-slide-supine                 M knee.r flex, hip.r flex
heel-slide-strap                  M knee.r flex
heel-slide-sitting                J knee.r flex
knee-flexion-prone                J knee.r flex
knee-flexion-standing             J knee.r flex
mini-squat                        M knee.r flex, hip.r flex
squat                             M knee.r flex, hip.r flex, ankle.r df
squat-weights                     M knee.r flex, hip.r flex, ankle.r df
wall-slide-squat                  M knee.r flex, hip.r flex
split-squat                       M knee.r flex, knee.l flex
forward-lunge                     M knee.r flex, hip.r flex
backward-lunge                    M knee.r flex, hip.r flex, knee.l flex
side-lunge                        M knee.r flex, hip.r flex, hip.l abd
step-up-forward                   M knee.r ext, hip.r ext
step-down-forward                 M knee.r flex, hip.r flex
quad-stretch-standing             M knee.r flex
quad-stretch-prone-strap          J knee.r flex
hamstring-stretch-strap           M hip.r flex
hamstring-stretch-sitting         M hip.r flex
hamstring-stretch-long-sitting    M trunk flex, hip.r flex
knee-extension-hip-bent           J knee.r ext
half-kneeling-to-standing         M hip.l ext, knee.l ext
neck-flexion                      J neck flex
neck-extension                    J neck ext
neck-rotation                     J neck turn-r
neck-side-bend                    J neck side-r
upper-trapezius-stretch           M neck side-r
neck-flexion-supine               J neck flex
supine-rest                       M held
crook-lying-rest                  M held
prone-rest                        M held
side-lying-rest                   M held
long-sitting-rest                 M held
sitting-tall                      M trunk ext
kneeling-tall                     M held
all-fours-rest                    M held
half-kneeling-rest                M held
pendulum                          M shoulder.r flex
table-slide                       M shoulder.r flex
wall-walk                         J shoulder.r flex
stick-shoulder-flexion            J shoulder.r flex, shoulder.l flex
stick-external-rotation           J shoulder.r er
stick-shoulder-extension          J shoulder.r ext, shoulder.l ext
shoulder-flexion-assisted         J shoulder.r flex
shoulder-flexion                  J shoulder.r flex
shoulder-abduction                J shoulder.r abd
shoulder-extension                J shoulder.r ext
front-raise-weights               J shoulder.r flex, shoulder.l flex
lateral-raise-weights             J shoulder.r abd, shoulder.l abd
scaption-weights                  M shoulder.r flex, shoulder.r hab
shoulder-press-single             M shoulder.r flex, elbow.r ext
shoulder-press-sitting            M elbow.r ext, shoulder.r abd
external-rotation-side-lying      J shoulder.r er
external-rotation-band            J shoulder.r er
internal-rotation-band            J shoulder.r ir
band-pull-apart                   M shoulder.r hab, shoulder.l hab
row-band                          M shoulder.r ext, elbow.r flex
row-band-long-sitting             M elbow.r flex, shoulder.r ext
straight-arm-pull-down            J shoulder.r ext, shoulder.l ext
pnf-d2-flexion                    M shoulder.r abd, shoulder.r er, forearm.r sup
prone-t-raise                     M shoulder.r hab, shoulder.l hab
prone-y-raise                     M shoulder.r flex, shoulder.l flex
prone-arm-lift                    J shoulder.r ext, shoulder.l ext
bent-over-row                     M shoulder.r ext, elbow.r flex
bent-over-fly                     M shoulder.r hab, shoulder.l hab
chest-press-supine                M elbow.r ext, shoulder.r flex
chest-press-band                  M shoulder.r flex, elbow.r ext
push-up-wall                      M elbow.r flex
push-up-counter                   M elbow.r flex
push-up-knees                     M elbow.r flex
push-up                           M elbow.r flex
doorway-stretch                   M held
cross-body-stretch                M shoulder.r had
wall-angel                        M shoulder.r abd, elbow.r ext
hand-behind-back                  M shoulder.r ir, elbow.r flex
two-hand-ball-lift                M shoulder.r flex, hip.r ext, knee.r ext
curl-up                           M trunk flex
dead-bug                          M knee.r ext, hip.r ext, shoulder.l flex
knee-fold-lying                   J hip.r flex
leg-lower                         M hip.r ext, hip.l ext
lower-trunk-rotation              M hip.r er, hip.l ir
cat-camel                         M trunk flex
trunk-rotation-all-fours          M trunk turn-r, shoulder.r abd
prone-press-up                    M trunk ext
prone-on-elbows                   M held
superman                          M hip.r ext, shoulder.l flex
prone-trunk-lift                  J trunk ext
bird-dog                          M shoulder.l flex, hip.r ext
front-plank                       M held
front-plank-knees                 M held
high-plank                        M held
mountain-climber                  M knee.r flex, hip.r flex
trunk-rotation-sitting            J trunk turn-r
trunk-side-bend-sitting           J trunk side-r
trunk-flexion-sitting             J trunk flex
trunk-extension-standing          J trunk ext
trunk-side-bend-standing          J trunk side-r, shoulder.l abd
open-book                         M trunk turn-r
ball-sitting-march                J hip.r flex
pallof-press                      M elbow.r ext, shoulder.r flex
trunk-rotation-ball               J trunk turn-r
wood-chop                         M shoulder.r ext, trunk turn-r, knee.r flex
kneeling-ball-roll                M shoulder.r flex, hip.r flex
child-pose                        M held
ankle-pump-in-bed                 J ankle.r df
sitting-bed-edge                  M held
arm-raise-in-a-wheelchair         J shoulder.r flex
exercise-bike                     M hip.l flex, knee.l flex, hip.r ext
walking-with-a-frame              M hip.r flex
walking-with-a-cane               M hip.l flex
prone-horizontal-abduction-plinth J shoulder.r hab
bench-press                       M elbow.r ext, shoulder.r flex
kettlebell-deadlift               M hip.r ext, knee.r ext
row-band-sitting                  M elbow.r flex, shoulder.r ext
marching-in-water                 M hip.r flex, knee.r flex
hands-on-belly-and-chest          M held
forward-bend-standing             M hip.r flex, trunk flex
chin-tuck                         M neck tuck
shoulder-shrug                    M blade.r up, blade.l up
shoulder-blade-squeeze            M blade.r back, blade.l back
roll-in-bed                       M hip.l flex, knee.l flex
floor-to-standing                 M shoulder.l ext
"""
