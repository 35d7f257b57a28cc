/* One page that more than one test reckons through. */
#ifndef UNIT_WORKED_PAGE_H
#define UNIT_WORKED_PAGE_H

#include <string.h>

#include "sights.h"

#define WORKED_PAGE_SIGHTS 14

/* The figures of a leveling exercise with IS: Universiti Sains Malaysia, School of Civil
 * Engineering (civil.eng.usm.my). */
static inline struct level_sight *worked_page(void)
{
	static struct level_sight sights[WORKED_PAGE_SIGHTS];
	struct level_sight fresh[] = {
	    known(sight(LEVEL_BS, "A", MM(1717), 0), MM(29230), 0),
	    sight(LEVEL_IS, "P1", MM(1432), 0),
	    sight(LEVEL_FS, "TP1", MM(1716), 0),
	    sight(LEVEL_BS, "TP1", MM(2918), 0),
	    sight(LEVEL_IS, "P2", MM(2272), 0),
	    sight(LEVEL_FS, "TP2", MM(953), 0),
	    sight(LEVEL_BS, "TP2", MM(816), 0),
	    sight(LEVEL_FS, "TP3", MM(3005), 0),
	    sight(LEVEL_BS, "TP3", MM(1436), 0),
	    sight(LEVEL_FS, "TP4", MM(1391), 0),
	    sight(LEVEL_BS, "TP4", MM(1246), 0),
	    sight(LEVEL_IS, "P3", MM(1353), 0),
	    sight(LEVEL_IS, "P4", MM(1462), 0),
	    known(sight(LEVEL_FS, "B", MM(628), 0), MM(29660), 0),
	};
	memcpy(sights, fresh, sizeof fresh);
	return sights;
}

#endif
