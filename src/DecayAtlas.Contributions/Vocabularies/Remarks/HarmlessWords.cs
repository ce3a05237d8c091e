namespace DecayAtlas.Contributions.Vocabularies.Remarks;

/// <summary>Words of remarks that say nothing against a weighing, in four languages: of the weather, the ground, plants and animals, and of
/// a bag that is as it should be.</summary>
internal static class HarmlessWords
{
    private static readonly HashSet<string> Telling = Made(
        // weather
        "sun sunny rain rainy rained raining cloud clouds cloudy wind windy storm snow snowy frost frosty fog foggy cold warm "
        + "hot humid sonne sonnig regen regnerisch regnete geregnet wolken bewolkt windig sturm schnee frostig nebel neblig kalt "
        + "heiss schwul sol soleado lluvia lluvioso llovia llovio llueve nubes nublado viento ventoso tormenta nieve helada "
        + "niebla frio calor caluroso soleil ensoleille pluie pluvieux pleuvait pleut nuages nuageux vent venteux orage neige gel "
        + "brouillard froid chaud weather wetter tiempo temps",
        // the ground and what stands round it
        "soil ground clay clayey sand sandy stone stones stony gravel mud muddy humus moss mossy grass grassy meadow lawn shade "
        + "shady shaded slope hill stream river pond ditch wall fence hedge path road boden erde lehm lehmig sandig stein steine "
        + "steinig kies schlamm matschig humos moos moosig gras wiese rasen schatten schattig hang hugel bach fluss teich graben "
        + "mauer zaun hecke weg strasse suelo tierra arcilla arcilloso arena arenoso piedra piedras pedregoso grava barro musgo "
        + "hierba pradera prado cesped sombra sombreado ladera colina arroyo rio charca muro valla seto camino carretera terre "
        + "argile argileux sable sableux pierre pierres caillou cailloux pierreux gravier boue boueux mousse herbe prairie "
        + "pelouse ombre ombrage pente colline ruisseau riviere mare mur cloture haie chemin route hard soft hart weich locker "
        + "duro blando dur meuble",
        // plants and animals
        "tree trees bush bushes shrub oak beech birch pine spruce maple willow nettle nettles clover fern flower flowers weed "
        + "weeds plant plants mushroom mushrooms fungus fungi worm worms earthworm earthworms ant ants beetle beetles snail "
        + "snails slug slugs spider spiders larva larvae woodlouse woodlice millipede millipedes centipede mole bird birds fox "
        + "deer cow cows sheep cat dog baum baume busch eiche buche birke kiefer fichte ahorn weide brennnessel brennnesseln klee "
        + "farn blume blumen unkraut pflanze pflanzen pilz pilze wurm wurmer regenwurm regenwurmer ameise ameisen kafer schnecke "
        + "schnecken spinne spinnen larve larven assel asseln tausendfussler maulwurf vogel fuchs reh kuh kuhe schafe katze hund "
        + "arbol arboles arbusto roble haya abedul pino encina arce sauce ortiga ortigas trebol helecho flor flores maleza planta "
        + "plantas seta setas hongo hongos lombriz lombrices gusano gusanos hormiga hormigas escarabajo escarabajos caracol "
        + "caracoles babosa arana aranas larvas cochinilla topo pajaro zorro ciervo vaca vacas ovejas gato perro arbre arbres "
        + "buisson chene hetre bouleau pin sapin epicea erable saule ortie orties trefle fougere fleur fleurs plante plantes "
        + "champignon champignons ver vers lombric lombrics fourmi fourmis scarabee escargot escargots limace limaces araignee "
        + "araignees larves cloporte cloportes taupe oiseau renard cerf vache vaches moutons chat chien",
        // a bag as it should be
        "ok okay fine good nothing normal intact whole clean perfect undamaged gut prima nichts auffalliges heil ganz sauber "
        + "unversehrt unbeschadigt bien bueno nada entera entero intacta intacto limpia limpio bon rien intacte entier propre "
        + "photo photos foto fotos remark special besonderes besondere particular especial particulier");

    private static readonly HashSet<string> Little = Made(
        "a an the of in on at by to and or with without no not none some many few much lots very quite little bit is was were "
        + "are had has there here it we i found saw seen under near beside next behind above below between from this all around "
        + "nearby close small big large wet moist damp dry dark light ein eine einer einem einen der die das dem den des im am "
        + "auf bei zu und oder mit ohne kein keine nicht einige viele viel wenige wenig sehr etwas ist war waren hat hier es wir "
        + "ich gefunden gesehen unter neben hinter uber vor zwischen von rundum nahe klein kleine gross grosse nass feucht "
        + "trocken dunkel hell un una unos unas el la los las lo de del al en y o con sin ningun ninguna algunos algunas muchos "
        + "muchas mucho mucha pocos pocas poco muy era eran hay habia aqui encontrado encontrada encontramos visto vimos bajo "
        + "junto cerca detras sobre entre desde pequeno pequena grande humedo humeda mojado seco seca oscuro claro une le les l "
        + "du d au aux dans sur et ou avec sans pas aucun aucune quelques beaucoup plusieurs peu tres est etait etaient il avait "
        + "ici trouve vu sous pres derriere devant petit petite petits grand humide mouille sec seche sombre clair");

    private static readonly char[] Signs =
        [' ', ',', '(', ')', '.', '!', ';', ':', '/', '-', '"', '\'', '’', '„', '“', '”', '«', '»', '+', '&', '*', '\n', '\u00a0'];

    /// <summary>Whether a remark says nothing else; a question mark leaves it open.</summary>
    public static bool AreAllIn(string remark)
    {
        string[] words = Identifier.Folded(remark).Split(Signs, StringSplitOptions.RemoveEmptyEntries);
        return words.Any(Telling.Contains) && words.All(word => Telling.Contains(word) || Little.Contains(word)
            || word.All(char.IsAsciiDigit));
    }

    private static HashSet<string> Made(params string[] lists) => [.. lists.SelectMany(list => list.Split(' '))];
}
