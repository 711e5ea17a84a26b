from django.contrib.auth.hashers import Argon2PasswordHasher


class ModestArgon2(Argon2PasswordHasher):
    """Argon2id at 46 MiB, one pass, one lane.

    Django's default takes 100 MiB a sign-in, which a small machine cannot give twenty members at once;
    these figures are the first row of OWASP's password storage advice (from memory).
    """

    time_cost = 1
    memory_cost = 47_104
    parallelism = 1
