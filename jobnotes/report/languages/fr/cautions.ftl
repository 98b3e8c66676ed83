# Mises en garde usuelles.

caution-fuel = Le carburant brûle et ses vapeurs peuvent s'enflammer. Laissez refroidir le moteur, faites le plein en plein air et tenez à distance étincelles et flammes. Suivez le manuel du constructeur.
caution-exhaust = Les gaz d'échappement contiennent du monoxyde de carbone, un gaz mortel et sans odeur. Ne faites tourner le moteur qu'en plein air, loin des portes et des fenêtres.
caution-hot = Des parties du moteur restent chaudes longtemps après l'arrêt. Laissez-les refroidir avant de les toucher. N'ouvrez pas un circuit de refroidissement chaud.
caution-blades = Les lames coupent même quand on les tourne à la main. Avant d'en approcher la main, arrêtez le moteur, retirez la clé et débranchez le fil de bougie ou retirez la batterie. Suivez ensuite le manuel du constructeur.
caution-moving = Tenez les mains, les cheveux et les vêtements amples loin des courroies, des ventilateurs et des autres pièces en rotation. N'utilisez pas la machine sans ses protecteurs.
caution-chain-saw = Une tronçonneuse peut rebondir vers vous en un instant. Contrôlez le frein de chaîne avant chaque utilisation, portez l'équipement demandé par le manuel du constructeur et gardez les deux mains sur la machine.
caution-cut-off-saw = Un disque à tronçonner peut provoquer un rebond, et un disque fissuré éclate. Utilisez des disques prévus pour la vitesse, gardez le protecteur en place, portez des lunettes de protection et un masque, et mouillez la poussière.
caution-battery = Une batterie peut brûler, dégager un gaz explosif et fournir un courant très fort. Tenez les étincelles à distance, portez des lunettes de protection et n'utilisez que le chargeur indiqué par le constructeur.
caution-lithium = N'ouvrez pas, n'écrasez pas et ne chauffez pas une batterie au lithium. Si elle gonfle, sent ou chauffe, éloignez-vous et appelez les secours. Ne la rechargez pas là où des personnes dorment.
caution-mains = Le courant du secteur peut tuer. L'installation de la maison, ou un groupe électrogène qui l'alimente, est l'affaire d'un électricien agréé qui connaît les règles locales.
caution-capacitor = Un condensateur peut garder une forte décharge longtemps après la coupure du courant. Laissez les capots fermés et confiez l'intérieur à une personne formée.
caution-ignition = Le circuit d'allumage donne une forte décharge. Débranchez le fil de bougie avant d'y travailler, pour que le moteur ne puisse pas démarrer.
caution-pressure = L'air sous pression peut faire éclater ce qui le contient. Relâchez la pression avant tout travail, ne bloquez et ne modifiez jamais une soupape de sécurité, et faites contrôler les réservoirs selon les règles locales.
caution-jet = Un jet fin sous haute pression traverse la peau et peut coûter un membre. Ne cherchez jamais une fuite avec la main. Si un jet perce la peau, allez tout de suite à l'hôpital, même si la blessure paraît petite.
caution-lifting = Ne travaillez jamais sous une machine soutenue par un cric seul. Utilisez des chandelles prévues pour ce poids, sur un sol ferme et plat.
caution-spring = Un ressort enroulé ou comprimé contient beaucoup de force et peut être projeté. Laissez ce travail à qui a le bon outil.
caution-brakes = Essayez les freins au pas avant chaque sortie. N'utilisez plus la machine si le levier ou la pédale est mou.
caution-wheel = Faites contrôler le serrage des écrous de roue après un court trajet, comme le demande le manuel du constructeur.
caution-grinding = Une meule fissurée peut éclater. Utilisez des meules prévues pour la vitesse, gardez le protecteur en place et portez des lunettes de protection.
caution-chemicals = Évitez le contact des produits d'atelier avec la peau, ne les versez pas à l'égout et tenez-les loin des enfants et des animaux. Portez les produits usés à un point de collecte.
caution-dust = Les poussières fines peuvent abîmer vos poumons pour toujours. Mouillez-les, portez un masque ajusté et suivez les règles locales.
caution-outboard = Portez le cordon coupe-circuit et tenez tout le monde loin de l'hélice. À terre, ne faites tourner le moteur qu'avec de l'eau de refroidissement, comme l'indique le manuel du constructeur.
caution-roll-over = Évitez les fortes pentes, où la machine peut se renverser. Laissez l'arceau de sécurité levé et la ceinture attachée.
caution-gas = Un gaz qui fuit peut exploser. Si vous le sentez, fermez l'arrivée, ne touchez aucun interrupteur et sortez. Les conduites de gaz sont l'affaire d'un installateur agréé.
caution-mobility = Essayez la machine dans un lieu dégagé et plat avant de vous y fier. Si elle ne s'arrête pas quand vous relâchez la commande, cessez de l'utiliser et appelez-nous.
