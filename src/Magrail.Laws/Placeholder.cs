namespace Magrail.Laws;
