"""How dates and times are written where Django's own formats of a language are not what clubs write."""
