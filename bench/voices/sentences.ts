/**
 * Sentences for voices to speak, our own, thick with s, sh, ch, t, k and f. Letters are those that each voice reads;
 * where a language was easier to write without its accents, the voice reads it without.
 */
/** For kal, ked and slt. */
export const ENGLISH: readonly string[] = [
  'Six silver foxes chased the ash across a chalky field.',
  'She sews thick socks for the fisherman at the church each Thursday.',
  'Take the short path past the station, then cut through the orchard.',
  'A fresh breeze shook the shutters of the little beach house.',
  'Please put the teacups back on the top shelf of the kitchen.',
  'Charles teaches maths to forty children at the village school.',
  'The judge asked which of the sketches Jessica had stitched first.',
  'Fifty thieves thought a thousand thoughts that thirsty Thursday.',
  'Keep the coffee hot and the ketchup cold, said the tall cook.',
  'Zebras graze by the hazy marshes as the sun rises in the east.',
  'This is the sort of dusty attic that hides treasure and spiders.',
  'Two tired tigers took turns to taste the toast.',
  'Ships with white sails passed the lighthouse just before sunset.',
  'Hush, said the shepherd, the sheep are asleep in the shade.',
  'Fetch the chess set, and let us finish the match by the fireside.',
  'Vera gave seven velvet gloves to the visitors from Venice.',
  'His brother usually measures the garage with a wooden ruler.',
  'Crisp packets crackle under the table at the back of the cafe.',
  'The cheap chocolate melted in my jacket pocket in July.',
  'Patrick kept a catalogue of parks, pictures, and tropical plants.',
  'Ice formed on the glass, and frost kissed the edges of each leaf.',
  'Those clothes are theirs, and these scissors belong to the tailor.',
  'Such a strange string of questions, he sighed, and shut the door.',
  'The chef chops fresh parsley, splashes oil, and stirs the sauce.',
];

/** For lp and pc. */
export const ITALIAN: readonly string[] = [
  'Sette sassi stanno sotto la scala della stazione.',
  'La zia prepara la pizza con zucchine e prezzemolo fresco.',
  'Cesare cerca le chiavi della cucina nel cassetto.',
  'Il pesce esce dalla rete e scivola nella sabbia.',
  'Giovanni gioca a scacchi con il cugino ogni giovedi.',
  'Francesca offre caffe forte a tutti gli ospiti stanchi.',
  'Lo zaino azzurro pesa troppo per una ragazza cosi piccola.',
  'Pescatori e pastori parlano piano presso il porto.',
  'Ho visto sciare due sciatori scozzesi sulla neve fresca.',
  'Questa sera si ascolta la stessa musica di ieri.',
  'Tutte le stelle scintillano sopra il tetto della casa.',
  'Vuoi assaggiare la salsa speziata o il riso semplice.',
  'Il vento soffia forte e fischia tra le foglie secche.',
  'Spesso scelgo strade strette per scoprire piazze silenziose.',
];

/** For dita, krb, machac and ph. */
export const CZECH: readonly string[] = [
  'Sest sester suslo v lese susene svestky.',
  'Ptaci zpivaji na streše stareho domu.',
  'Tri tisice stribrnych strikacek strika pres strechy.',
  'Cesta k chate vede pres cerny les a tichou stran.',
  'Jiri si koupil cerstve zemle a kousek syra.',
  'Zitra pojedeme vlakem do mesta za tetou.',
  'Sedla vcela na kvet a slunce svitilo.',
  'Poslouchej, jak sumi voda pod starym mlynem.',
  'Kocka spi u kamen a pes hlida dvere.',
  'Chci si precist tu knihu jeste dnes vecer.',
  'Tatinek sekal travu a maminka strihala ruze.',
  'Zima prisla drive a snih zasypal cesty.',
  'V zahrade roste cesnek, cibule a petrzel.',
  'Kazdy patek chodime spolecne na prochazku.',
  'Šest šišek spadlo ze stromu na střechu.',
  'Žába žije u rybníka a čáp čeká na oběd.',
  'Čtyři mašinky šuměly v dešti celý čas.',
  'Každá žížala žere čerstvé listí.',
  'Tchán šetří peníze na nový člun.',
  'Šéfkuchař čistí žampiony a špenát.',
];

/** For lj and mv. */
export const FINNISH: readonly string[] = [
  'Sisko sai suuren sinisen saappaan.',
  'Kissa istuu katolla ja katsoo tahtia.',
  'Pekka pesi pitkat portaat pehmealla harjalla.',
  'Sateen jalkeen tuoksuu sammal ja kostea tie.',
  'Tytto soitti hiljaa vanhaa kitaraa.',
  'Syksylla metsassa kasvaa suppilovahveroita.',
  'Kapteeni kaski kaikkien istua paikoillaan.',
  'Hevonen hirnui tallissa koko pitkan yon.',
  'Talvella sataa lunta ja pakkanen kiristyy.',
  'Ystava toi tuliaisiksi tuoretta leipaa ja suklaata.',
  'Posti tuli tiistaina kello kaksitoista.',
  'Lapset hyppivat ja huusivat pihalla iltaan asti.',
];

/** For ona. */
export const CATALAN: readonly string[] = [
  'Sis setze jutges mengen fetge fresc.',
  'La casa te sostre vermell i finestres estretes.',
  'Aquest xicot xiula cançons senzilles tot passejant.',
  'El peix fresc es ven a la plaça cada dijous.',
  'Txema posa sal, sucre i xocolata a la massa.',
  'Les estrelles brillen sobre la costa silenciosa.',
  'Quatre gats salten per la teulada fosca.',
  'Josep juga a escacs amb la seva germana petita.',
  'Fa fred i el vent bufa fort des de la serra.',
  "Tots els passatgers esperen a l'estació de tren.",
  'Puja les escales i tanca la porta a poc a poc.',
  'Vaig comprar set taronges i tres pastissos.',
];

/** For nsh. */
export const RUSSIAN: readonly string[] = [
  'шесть сестёр шили шёлковые шторы в тихой избе.',
  'чайка часто летит через чистое озеро.',
  'снег засыпал старую крышу и узкую тропу.',
  'саша спешит на станцию с тяжёлой сумкой.',
  'жёлтый жук жужжит над свежими цветами.',
  'щука и ещё четыре рыбы плещутся в пруду.',
  'птица поёт песню, пока солнце встаёт.',
  'завтра поезд придёт ровно в шесть часов.',
  'в саду цветёт сирень и пахнет свежим хлебом.',
  'тётя катя печёт пирог с капустой и картошкой.',
  'фёдор фотографирует форт на фоне заката.',
  'холодный ветер стучит в пустые окна.',
  'отец читает газету, а сын рисует цаплю.',
  'после дождя воздух становится чище и тише.',
];

/** For the Japanese and Chinese voices of neural-voices.ts; romanised, sung lines as much as said ones. */
export const JAPANESE: readonly string[] = [
  'sakura no hana ga shizuka ni chiru yoru',
  'tsuki no hikari ni sasowarete umi e iku',
  'kaze ga fuku machi de kimi o zutto sagashite ita',
  'chiisana tsubasa hirogete sora o tobu',
  'subete no kotoba ga yuki no you ni tokete',
  'shiroi fune wa toozakaru natsu no asa',
  'tsumetai ame ga furu hi mo hitori de utau',
  'jikan wa sugite mo wasurenai yakusoku',
  'kisetsu ga kawari hoshi ga matataku',
  'itsuka zenbu hanaseru hi ga kuru to shinjite',
  'fushigi na yume o mita kesa no koto',
  'hashitte hashitte asahi o oikakete',
  'zutto soba ni ite hoshii to tsubuyaita',
  'kasa mo sasazu ni futari de aruku',
];
