/** Small invented tunes that use most of the syntax: material for tests and for mutations. */
export const ABC_EXAMPLES: readonly string[] = [
  `X:1
T:The Copper Kettle
T:An Citeal Copair
R:reel
C:Made up for a test
M:C|
L:1/8
Q:1/2=96
K:Dmix
P:A
|:A|"D"d2fd (3ABd fd|"C"{e}c2ec {/d}gcec|"D"~d2 fd A2de|[1 "G"(gf)ed "Am"cAG:|[2 "C"gfec "D"[d2A2]z||
P:B
[|!upbow!vA>B "^shift"d2 u.f.g [Aa]2|g-g fe (d[Gc]) BA\\
 Ad d>e fdgf|"C"e4-e2 ||
W: A kettle of copper
`,
  `X: 2
T: Wet Grass %a comment
M: 6/8
K:Ador
% before the music
E | A2B c>BA | (e2e d)BG | [M:9/8] A3 A2G EFG |
[K:Amin clef=treble] c/2d/2e2 a>ge | dBG AFD :: a^ga eac' | =g3 z3 |
w: one two three- four _ | five ~six * se\\-ven
A6 & "Dm"x3 "Am"x3 |]
`,
  `%abc-2.1
M:4/4
O:Nowhere

X:3
T:Slow One
P:A2(BA)2
L:1/16
U:T = !trill!
m:~G2 = {A}G{F}G
K:Gm exp ^f _b _e
V:1
V:2
P:A
[V:1] ~G2TA2 B4 ((5:4:5Bcdef) g>>a | Z2 |
[V:2] G8 G8 | z16 |
P:B
[V:1] d4-d4 "_low"G,,2x2 y \`B\`A2 [GBd]4- | [GBd]16 |]
+: nothing
`,
  `X:4
T:Old Ways
L:1/4
M:3/4
Q:"Gently" 120
K:HP
B/2-c/2 | ~(dcd) | +CEG+ A !fermata!B2 |:|
d "Segno"e f | {gf}e2 d- | c3 ".D.C."|]*
`,
];
