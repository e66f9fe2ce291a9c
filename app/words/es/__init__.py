"""The Spanish catalogues: Spanish as a geometry teacher in Latin America or the USA says it.

Students are addressed with "tú"; the Desk and the form for sheets use forms that suit "usted" or name no person. Names of the Spanish house
(`app/words/house.py`) stand in every sentence that is made in Spanish, so a sentence may count on their gender: theorem
names that pairs have are masculine ("teorema", "postulado", "recíproco"), other reasons are not all so, and a
sentence that may hold any of them puts the name behind a colon or in parentheses. Numbers keep the decimal point, as
in Mexico, Central America and the USA.

Glossary (one term for one thing, everywhere):

    Desk, Board, Seat           Escritorio, Pizarra, lugar         pack, period, task      lección, clase, actividad
    sheet, key, version         hoja, clave, versión               exit ticket             boleto de salida
    code, door                  código, entrada                    hint, step              pista, paso
    hand in, check, save        entregar, comprobar, guardar       pencils down            lápices abajo
    line, ray, segment          recta, rayo, segmento              meet, crossing          intersección
    side (of an angle), vertex  lado, vértice                      transversal             transversal
    pair of angles              par de ángulos                     linear pair             par lineal
    corresponding               correspondientes                   vertical                opuestos por el vértice
    alternate interior          alternos internos                  alternate exterior      alternos externos
    consecutive interior        conjugados internos (also: internos del mismo lado, colaterales internos)
    congruent, supplementary    congruentes, suplementarios        measure                 medida
    parallel, perpendicular     paralelas, perpendiculares         bisector                bisectriz
    perpendicular bisector      mediatriz                          midpoint                punto medio
    given, prove, proof         dado, demostrar, demostración      statement, reason, row  enunciado, razón, fila
    theorem, converse           teorema, recíproco                 inverse                 inversa
    contrapositive              contrarrecíproco                   biconditional           bicondicional
    counterexample              contraejemplo                      it follows              se deduce
    not forced                  no tiene por qué cumplirse         undecided               sin decidir
    "if" part, "then" part      parte “si”, parte “entonces”       unknown                 incógnita
    compass, straightedge       compás, regla                      opening, arc            abertura, arco
    swing an arc                trazar un arco                     mistake, misconception  error
"""
