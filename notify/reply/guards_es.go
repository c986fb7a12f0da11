package reply

// guardsSpanish are the words that keep what stands beside them out of the
// diary.
var guardsSpanish = []entry{
	{lex{guard: gNegation}, "no, nunca, jamas, ningun, ninguna, ninguno, nadie, nada, tampoco, sin, ni, todavia, aun, falta, faltan, ya no, nomas no, nel, excepto, menos, en vez, olvidé, siguen, sigue, no se pudo"},
	{lex{guard: gPlan}, "voy, vamos, va, van, vas, iba, iban, ibamos, quiero, queremos, quiere, necesito, necesitamos, necesita, hay que, tengo que, tenemos que, tiene que, debo, debemos, debe, pienso, pensamos, planeo, puedo, podemos, puede, podria, podriamos, pronto, esta noche, proximo, proxima, antes, hasta que, listo para, a punto de, ya mero, mero, al ratito, ahorita voy a"},
	{lex{guard: gPlan}, "sacar, mover, meter, pasar, cambiar, llevar, quitar, poner, echar, sacarlas, moverlas, meterlas, pasarlas, llevarlas, quitarlas, cortar, quemar, destetar, saco, muevo, meto, llevo, quito, pongo, echo, sacando, moviendo, metiendo, pasando, cambiando, llevando, quitando, empezando, sacaré, moveré, meteré, pasaré, cambiaré, llevaré, quitaré, sacare, movere, metere, pasare, cambiare, llevare, quitare, sacaremos, moveremos, meteremos, pasaremos, cambiaremos, llevaremos, quitaremos, sacarán, moverán, meterán, sacaran, moveran, meteran, pasaran, sacará, moverá, saldran, saldrán, estara, estaran, estará, estarán, tendra, medira, pronostico, pronostican, aviso, alerta, posible, probabilidad, amenaza, meta de"},
	{lex{guard: gIf}, "si, cuando, cuándo, aunque, por si, en caso, en cuanto, mientras, porque, siempre que, con tal, sino, a menos que"},
	{lex{guard: gOrder}, "saca, saque, saquen, sácalas, sacalas, saquenlas, mueve, mueva, muevan, muevelas, mete, meta, metan, metelas, pasa, pase, pasen, pasalas, cambia, cambie, cambien, cambialas, cambio, paso, lleva, lleve, lleven, llevalas, quita, quite, quiten, quitalas, pon, ponga, pongan, ponlas, echa, eche, echen, echalas, suelta, suelte, suelten, abre, cierra, manda, dile, digale, avisa, avisale, checa, revisa, ve, vayan, vaya, deja, deje, dejen, corta, corte, corten, quema, queme, desteta, destete ya, rota, rote, traigan, trae las, arrea, arree, arreen, retire, retira, retiren, traslade"},
	{lex{guard: gHedge}, "tal vez, talvez, quiza, quizas, creo, creo que, parece, pareciera, posiblemente, probablemente, dice, dicen, dijo, dijeron, casi, casi todas, a lo mejor, ojala, supongo, dizque, segun, me dijo, no se, quien sabe, apenas, por lo menos, menos de, mas de, minimo, maximo, imagino, dudo, sera, creyendo, se supone, algo asi"},
	{lex{guard: gAsk}, "que, qué, donde, dónde, cómo, cual, cuál, cuanto, cuánto, cuantas, cuántas, cuantos, quien, quién, por que, por qué, acaso, sabes, sabe"},
	{lex{guard: gFix}, "digo, perdon, disculpa, disculpe, me equivoque, es broma, broma, no es cierto, mejor, mejor dicho, mas bien, espera, espere, esperen, olvidalo, olvidelo, error, corrijo, correccion, mentira, prueba, de hecho, era broma, equivocado, cambio de planes, me confundi"},
	{lex{guard: gPart}, "mitad, la mitad, unas cuantas, unos cuantos, algunas, algunos, varias, varios, pocas, pocos, resto, el resto, la mayoria, mayoria, casi todas, casi todos, parte, becerro, becerra, ternero, toro, vaca, vaquilla, novillo, caballo, yegua, una vaca, un toro, un becerro, par de, un par, demas, ultimas, ultimos"},
	{lex{guard: gOther}, "vecino, vecinos, vecina, su, sus, ajeno, ajenas, ajenos, otro, otra, otros, otras, del vecino, de los vecinos, alguien, tu, tus, ellos"},
	{lex{guard: gThing}, "troca, trocas, camioneta, remolque, tractor, agua, bebedero, tanque, pila, bomba, papalote, cerca, cercas, cerco, alambre, puerta, puertas, luz, corriente, pastor electrico, sal, comedero, perro, perros, venado, venados, coyote, coyotes, puercos, gente, ninos, cuadrilla, cazadores, arbol, camino, puente, arroyo, nieve, hielo, vidrio, parabrisas, techo, tuberia, jardin, carro, viento, lodo, precio, alarma, temperatura, grados hoy, espigas, espiga"},
	{lex{guard: gRain}, "lluvia, lluvias, llovio, llovió, llueve, lloviendo, nevo, nevó, granizo, granizó, aguacero, tormenta, pluviometro, chubasco, llovizna, de lluvia, de agua, inundo, mojado"},
}

// askSpanish are the words of a question about a paddock.
var askSpanish = []entry{
	{lex{set: sNamed, guard: gAsk}, "como esta, cómo está, como va, cómo va, como anda, cómo anda, como sigue, cómo sigue, como se ve, cómo se ve, como ves, que tal esta, qué tal está, que tal, cuando cierra, cuándo cierra, cuando se cierra, cuándo se cierra, puedo, podemos, ya puedo, ya podemos, se puede, ya se puede, cuanto mide, cuánto mide, cuanto tiene, cuánto tiene, cuando puedo, cuándo puedo, cuando podemos, cuándo podemos, a cuanto esta, a cuánto está, cuantos dias le quedan a, cuántos días le quedan a, ya esta listo, ya está listo, esta listo"},
	{lex{set: sVerb}, "pastorear, pastar, usar, meter, entrar, echar, soltar, meter vacas, meter las vacas, meter ganado, meter el ganado, meterlas, echar las vacas, listo, lista, abierto, cerrado, bien"},
}

// countSpanish are numbers, months and weekdays.
var countSpanish = append(counted(
	"cero uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciseis diecisiete dieciocho diecinueve veinte veintiuno veintidos veintitres veinticuatro veinticinco veintiseis veintisiete veintiocho veintinueve",
	"veinte treinta cuarenta cincuenta sesenta setenta ochenta noventa",
	"enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre",
	"ene - - abr - - - ago sept - - dic",
	"domingo lunes martes miercoles jueves viernes sabado",
), entry{lex{role: rTens, val: 10}, "diez"})
